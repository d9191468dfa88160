import { calculations } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { fileWith, haspwright, issuesOf, start, WORKS_KEY } from './command-line.testing.ts'

const nickel = { metal: 'nickel', areaDm2: 1, currentDensityAPerDm2: 2, efficiencyPercent: 95, thicknessUm: 6 }

describe('haspwright calc', () => {
  it('prints one JSON object for an input from a file or from standard input', async () => {
    const input = JSON.stringify(nickel)
    const fromFile = await haspwright(['calc', 'finish.deposit', '--in', fileWith(input)])
    const fromInput = await haspwright(['calc', 'finish.deposit', '--in', '-'], { input })
    expect(fromFile).toEqual(fromInput)
    expect(fromFile).toMatchObject({ status: 0, err: '' })
    expect(JSON.parse(fromFile.out)).toMatchObject({ minutes: expect.closeTo(15, 0) })
  })

  it('lists every calculation with its title', async () => {
    const { status, out } = await haspwright(['calc', '--list'])
    expect(status).toBe(0)
    expect(out.trimEnd().split('\n')).toHaveLength(calculations.length)
    for (const { id, title } of calculations) expect(out).toMatch(new RegExp(`^${id} +${escaped(title)}$`, 'm'))
  })

  it('prints the JSON Schemas of a calculation', async () => {
    const { status, out } = await haspwright(['calc', 'finish.deposit', '--schema'])
    expect(status).toBe(0)
    expect(JSON.parse(out)).toMatchObject({
      id: 'finish.deposit',
      input: { type: 'object' },
      output: { type: 'object' },
    })
  })

  it('tells every issue at once', async () => {
    const input = JSON.stringify({ ...nickel, areaDm2: 0, metal: 'gold', colour: 'red' })
    const issues = issuesOf(await haspwright(['calc', 'finish.deposit', '--in', '-'], { input }))
    expect(issues.map(({ path }) => path).sort()).toEqual(['areaDm2', 'colour', 'metal'])
  })

  it.each([
    ['an empty file', '', 'nothing in it'],
    ['wrong JSON', '{"metal": "nickel",\n "areaDm2": 1 2}', 'line 2, column 15'],
    ['5 MB of garbage', new Uint8Array(5e6).fill(0x61), 'too large'],
    ['text that is not UTF-8', Uint8Array.of(0x22, 0xe5, 0x22), 'UTF-8'],
  ])('refuses %s from a file and from standard input alike', async (_, content, words) => {
    const fromFile = issuesOf(await haspwright(['calc', 'finish.deposit', '--in', fileWith(content)]))
    const fromInput = issuesOf(await haspwright(['calc', 'finish.deposit', '--in', '-'], { input: content }))
    for (const issues of [fromFile, fromInput]) {
      expect(issues).toHaveLength(1)
      expect(issues[0]?.message).toContain(words)
    }
  })

  it.each([
    [['calc'], 'ID'],
    [['calc', 'finish.gild', '--in', '-'], 'id'],
    [['calc', 'finish.deposit'], '--in'],
    [['calc', 'finish.deposit', '--in', '/no/such/file'], ''],
    [['calc', 'finish.deposit', '--in', '/'], ''],
    [['calc', 'finish.deposit', '--in'], '--in'],
    [['calc', 'finish.deposit', '--out', 'x'], '--out'],
    [['gild'], 'gild'],
    [['sources', 'twice'], 'twice'],
    [['schema', 'lock'], 'lock'],
    [['plan'], 'ORDER.json'],
    [['serve', '--port', '70000'], '--port'],
    [['check'], 'FILE'],
  ])('refuses %j as bad input', async (words, path) => {
    expect(issuesOf(await haspwright(words))[0]?.path).toBe(path)
  })

  it('reports all wrong options together', async () => {
    const issues = issuesOf(await haspwright(['calc', 'finish.deposit', '--inn', 'x', '--list=yes']))
    expect(issues.map(({ path }) => path)).toEqual(['--inn', '--list'])
  })

  it('repeats no secret of a bad input', async () => {
    const secret = calculations.filter((calculation) => calculation.secret === true)
    for (const { id } of secret) {
      const input = JSON.stringify({ keyHex: WORKS_KEY.slice(1), code: [91, 92, 93], digits: [91, 92], radix: -1 })
      const { status, out, err } = await haspwright(['calc', id, '--in', '-'], { input })
      expect({ id, status, out }).toEqual({ id, status: 2, out: '' })
      expect(err).not.toContain(WORKS_KEY.slice(1))
      expect(err).not.toMatch(/9[123]/)
    }
  })

  it('ends quietly when nobody reads on', async () => {
    const child = await start(['calc', 'finish.deposit', '--schema'])
    const err: string[] = []
    child.stderr?.setEncoding('utf8').on('data', (piece: string) => err.push(piece))
    child.stdout?.destroy()
    expect(await new Promise((resolve) => child.once('close', resolve))).toBe(0)
    expect(err.join('')).toBe('')
  })
})

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')

describe('the command line', () => {
  it.each([[], ['--help'], ['help']])('lists its commands: %j', async (...words) => {
    const { status, out } = await haspwright(words)
    expect(status).toBe(0)
    for (const name of ['calc', 'codes', 'sources', 'plan', 'check', 'schema', 'serve'])
      expect(out).toMatch(new RegExp(`^  ${name} `, 'm'))
  })

  it.each(['calc', 'codes', 'sources', 'plan', 'check', 'schema', 'serve'])('helps with %s', async (name) => {
    const { status, out } = await haspwright([name, '--help'])
    expect(status).toBe(0)
    expect(out).toContain(`Usage: haspwright ${name}`)
  })

  it('says its version', async () => {
    expect(await haspwright(['--version'])).toEqual({
      status: 0,
      out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/),
      err: '',
    })
  })

  it('prints the schemas of the file formats', async () => {
    for (const name of ['design', 'order', 'works']) {
      const { status, out } = await haspwright(['schema', name])
      expect(status).toBe(0)
      expect(JSON.parse(out)).toMatchObject({ type: 'object' })
    }
  })

  it('lists the sources by status, and as JSON', async () => {
    const { status, out } = await haspwright(['sources'])
    expect(status).toBe(0)
    expect(out).toMatch(/\d+ of \d+ calculations are checked against a publication/)
    const { summary, sources } = JSON.parse((await haspwright(['sources', '--json'])).out) as {
      summary: { calculations: number }
      sources: unknown[]
    }
    expect(summary.calculations).toBe(calculations.length)
    expect(sources.length).toBeGreaterThan(3)
  })
})
