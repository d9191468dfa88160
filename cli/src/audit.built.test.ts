import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { haspwright, issuesOf, temporaryFolder } from './command-line.testing.ts'

describe('haspwright audit', () => {
  it('says that a folder without a database has none, what it would audit, and makes none', async () => {
    const data = temporaryFolder()
    const ended = await haspwright(['audit'], { data })
    expect(issuesOf(ended)).toMatchObject([{ path: '--data', code: 'not-found' }])
    expect(ended.err).toContain('files, which this command does not audit')
    expect(readdirSync(data)).toEqual([])
    const nowhere = join(data, 'nowhere')
    expect(issuesOf(await haspwright(['audit', '--data', nowhere], { data }))).toMatchObject([{ value: nowhere }])
    expect(existsSync(nowhere)).toBe(false)
  })

  it('refuses a head that is none, together with words it does not know', async () => {
    const ended = await haspwright(['audit', 'all', '--head', '7'], { data: temporaryFolder() })
    expect(issuesOf(ended).map(({ path }) => path)).toContain('--head')
    expect(issuesOf(ended)).toHaveLength(2)
  })
})
