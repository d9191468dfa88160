import { readdirSync } from 'node:fs'
import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { demoJson, fileWith, haspwright, inRegister, issuesOf, temporaryFolder } from './command-line.testing.ts'

async function dataWithDesign(): Promise<string> {
  const data = temporaryFolder()
  await inRegister(data, ({ designs }) => designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }))
  return data
}

describe('haspwright codes', () => {
  it('withdraws, reserves and releases, lists it, and writes down who and why', async () => {
    const data = await dataWithDesign()
    const run = (...words: string[]) => haspwright(['codes', ...words, '--json'], { data })
    const done = async (...words: string[]) => JSON.parse((await run(...words)).out) as Record<string, string>
    expect(await done('withdraw', 'HB50', '--number', '17', '--reason', 'key lost')).toEqual({ number: '17' })
    const { id = '' } = await done('reserve', 'HB50', '--from', '20', '--to', '29', '--reason', 'lock gates')
    expect(JSON.parse((await run()).out)).toMatchObject({
      spaces: [{ design: 'HB50', withdrawn: '1', reserved: '10' }],
    })
    expect(await done('release', 'HB50', '--reservation', id, '--reason', 'not needed')).toEqual({ numbers: '20-29' })
    const log = JSON.stringify(await inRegister(data, ({ access }) => access.entries()))
    for (const word of ['withdrawn', 'reserved', 'released', 'key lost', 'at the command line'])
      expect(log).toContain(word)
  })

  it('refuses an import with every bad line, repeats no cut, and stores nothing', async () => {
    const data = await dataWithDesign()
    const list = fileWith('code\n4-4-4\n5-5-5-5-5-5-5-5-5', 'old.csv')
    const ended = await haspwright(['codes', 'import', 'HB50', '--in', list, '--reason', 'old works'], { data })
    expect(issuesOf(ended).map(({ value }) => value)).toEqual([2, 3])
    expect(ended.err).not.toMatch(/4-4-4|5-5-5/)
    expect((await haspwright(['codes', '--json'], { data })).out).toContain('"imported":"0"')
  })

  it('finds nothing in a folder that was never used, and makes nothing there', async () => {
    const data = temporaryFolder()
    expect((await haspwright(['codes', '--json'], { data, embedded: true })).out).toBe('{"spaces":[]}\n')
    const words = ['codes', 'withdraw', 'HB50', '--number', '1', '--reason', 'lost']
    expect(issuesOf(await haspwright(words, { data, embedded: true }))).toMatchObject([{ path: 'HB50' }])
    expect(readdirSync(data)).toEqual([])
  })

  it.each([
    [['burn', 'HB50'], 'burn'],
    [['withdraw'], 'DESIGN'],
    [['withdraw', 'HB50', '--reason', 'lost'], '--blind-code'],
    [['reserve', 'HB50', '--from', 'x', '--to', '9', '--reason', 'kept'], '--from'],
    [['withdraw', 'NONE', '--number', '1', '--reason', 'lost'], 'NONE'],
  ])('refuses %j as bad input', async (words, path) => {
    expect(issuesOf(await haspwright(['codes', ...words], { data: await dataWithDesign() }))[0]?.path).toBe(path)
  })
})
