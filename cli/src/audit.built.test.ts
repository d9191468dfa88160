import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { demoFile, haspwright, issuesOf, temporaryFolder } from './command-line.testing.ts'

interface Audited {
  readonly whole: boolean
  readonly events: string
  readonly head: { readonly number: string; readonly hash: string }
}

describe('haspwright audit', () => {
  it('proves that every event and number of a plan is there, and names the head', async () => {
    const data = temporaryFolder()
    await haspwright(['plan', demoFile('orders/26-041-harbour.json'), '--out', join(data, 'out')], { data })
    const { events, head, whole } = JSON.parse((await haspwright(['audit'], { data })).out) as Audited
    expect(whole).toBe(true)
    expect(Number(events)).toBeGreaterThan(3)
    const { number, hash } = head
    expect(number).toBe(events)
    expect((await haspwright(['audit', '--head', `${number}:${hash}`], { data })).status).toBe(0)
    const other = await haspwright(['audit', '--head', `${number}:${'0'.repeat(64)}`], { data })
    expect(issuesOf(other)[0]?.path).toBe(`event ${number}`)
  })

  it('says that nothing is kept in a folder that was never used, and makes nothing', async () => {
    const data = temporaryFolder()
    const ended = await haspwright(['audit'], { data, embedded: true })
    expect(issuesOf(ended)).toMatchObject([{ path: '--data', code: 'not-found' }])
    expect(readdirSync(data)).toEqual([])
    const nowhere = join(data, 'nowhere')
    const there = await haspwright(['audit', '--data', nowhere], { data, embedded: true })
    expect(issuesOf(there)).toMatchObject([{ value: nowhere }])
    expect(existsSync(nowhere)).toBe(false)
  })

  it('refuses a head that is none, together with words it does not know', async () => {
    const ended = await haspwright(['audit', 'all', '--head', '7'], { data: temporaryFolder() })
    expect(issuesOf(ended).map(({ path }) => path)).toContain('--head')
    expect(issuesOf(ended)).toHaveLength(2)
  })
})
