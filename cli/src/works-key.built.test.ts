import { readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { demoFile, haspwright, issuesOf, temporaryFolder } from './command-line.testing.ts'

/** The key stands in its file, not in the environment. */
const environment = { HASPWRIGHT_WORKS_KEY: '' }

describe('haspwright works-key', () => {
  it('splits the key on sheets, and puts it back from enough of them', async () => {
    const data = temporaryFolder()
    const run = (...words: string[]) => haspwright(words, { data, environment })
    await run('plan', demoFile('orders/26-041-harbour.json'), '--out', join(data, 'out'), '--quiet')
    const file = join(data, 'works.key')
    const first = readFileSync(file, 'utf8')
    const rotated = await run('works-key', 'rotate', '--reason', 'somebody left')
    expect(JSON.parse(rotated.out)).toEqual({ generation: 2, resealed: 0 })
    const key = readFileSync(file, 'utf8')
    expect(key).not.toBe(first)
    const out = join(temporaryFolder(), 'sheets')
    const made = await run('works-key', 'recovery-sheet', '--shares', '3', '--needed', '2', '--out', out)
    expect(made.out).not.toContain('HW1')
    const [one = '', two = '', three = ''] = readdirSync(out).map((name) => join(out, name))
    expect(statSync(three).mode & 0o777).toBe(0o600)
    expect(readFileSync(one, 'utf8')).toContain('SHEET 1 OF 3')
    rmSync(file)
    expect(issuesOf(await run('works-key', 'recover', one))[0]?.message).toContain('not enough')
    expect((await run('works-key', 'recover', three, two)).status).toBe(0)
    expect(readFileSync(file, 'utf8')).toBe(key)
    const again = await run('plan', demoFile('orders/26-041-harbour.json'), '--out', join(data, 'again'), '--quiet')
    expect(again.status).toBe(0)
  })

  it.each([
    [[], 'ACT'],
    [['burn'], 'burn'],
    [['rotate'], '--reason'],
    [['recovery-sheet', '--shares', '3', '--needed', 'two', '--show'], '--needed'],
    [['recovery-sheet', '--shares', '3', '--needed', '2'], '--out'],
  ])('refuses %j as bad input', async (words, path) => {
    expect(issuesOf(await haspwright(['works-key', ...words], { data: temporaryFolder() }))[0]?.path).toBe(path)
  })
})
