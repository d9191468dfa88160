import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { demoJson, haspwright, inRegister, issuesOf, temporaryFolder } from './command-line.testing.ts'

async function dataWithDesign(): Promise<string> {
  const data = temporaryFolder()
  await inRegister(data, ({ designs }) => designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }))
  return data
}

describe('haspwright move-out and move-in', () => {
  it('carry the register over a folder of open files into another data folder, and tell the audit', async () => {
    const [data, other] = [await dataWithDesign(), temporaryFolder()]
    const folder = join(temporaryFolder(), 'leaving')
    const left = await haspwright(['move-out', folder, '--json'], { data })
    expect(left).toMatchObject({ status: 0, err: '' })
    expect(readFileSync(join(folder, 'README.txt'), 'utf8')).toContain('designs')
    const entered = await haspwright(['move-in', folder], { data: other })
    expect(JSON.parse(entered.out)).toMatchObject({ audit: [{ works: 'works', whole: true }] })
    expect(await inRegister(other, ({ designs }) => designs.ids())).toEqual(['HB50'])
    expect(issuesOf(await haspwright(['move-in', folder], { data: other }))[0]?.message).toContain('empty data folder')
    expect(issuesOf(await haspwright(['move-out', folder], { data }))[0]?.message).toContain('nothing is written over')
  })

  it('take nothing from files that were changed, and nothing from a folder that is none of theirs', async () => {
    const [data, other] = [await dataWithDesign(), temporaryFolder()]
    const folder = join(temporaryFolder(), 'leaving')
    await haspwright(['move-out', folder], { data })
    const file = join(folder, readdirSync(folder).find((name) => name.startsWith('designs')) ?? '')
    writeFileSync(file, readFileSync(file, 'utf8').replace('Harbour', 'Harbor'))
    expect(issuesOf(await haspwright(['move-in', folder], { data: other }))[0]?.path).toContain(file)
    expect(await inRegister(other, ({ designs }) => designs.ids())).toEqual([])
    expect(issuesOf(await haspwright(['move-in', temporaryFolder()], { data: other }))).toHaveLength(1)
    expect(issuesOf(await haspwright(['move-out'], { data }))).toMatchObject([{ path: 'DIR', code: 'missing' }])
  })
})
