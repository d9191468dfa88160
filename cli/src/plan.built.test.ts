import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Design, Works } from '@haspwright/engine'
import { type Register, WORKS_ID } from '@haspwright/register'
import { describe, expect, it, onTestFinished } from 'vitest'
import {
  demoFile,
  demoJson,
  type Ended,
  haspwright,
  inRegister,
  issuesOf,
  start,
  temporaryFolder,
  WORKS_KEY,
} from './command-line.testing.ts'

const HARBOUR = demoFile('orders/26-041-harbour.json')

/** A works of its own: order, designs and works as files, spoilt by whoever tests. */
function ownWorks(spoilt: { order?: object | string; design?: object | string; works?: object | string } = {}) {
  const folder = temporaryFolder()
  mkdirSync(join(folder, 'designs'))
  const put = (name: string, content: object | string) =>
    writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content))
  put('order.json', spoilt.order ?? demoJson('orders/26-041-harbour.json'))
  put('designs/hb50.json', spoilt.design ?? demoJson('designs/hb50.json'))
  put('works.json', spoilt.works ?? demoJson('works.json'))
  return { folder, out: join(folder, 'out'), data: temporaryFolder() }
}

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
}

const papersIn = (out: string) =>
  (JSON.parse(readFileSync(join(out, 'papers.json'), 'utf8')) as { papers: { path: string; secret: boolean }[] }).papers

/** Neither what the program said nor any file it left holds the key of the works. */
function expectNoWorksKey({ out, err }: Ended, folders: readonly string[]): void {
  expect(out + err).not.toContain(WORKS_KEY)
  for (const file of folders.flatMap(filesUnder)) expect(readFileSync(file).includes(WORKS_KEY)).toBe(false)
}

describe('haspwright plan', () => {
  it('plans the harbour order: papers in the folder, secrets apart, one line on the console, and who printed the codes', async () => {
    const { out, data } = ownWorks()
    const ended = await haspwright(['plan', HARBOUR, '--out', out], { data })
    expect(ended.status).toBe(0)
    expect(ended.out).toMatch(/^[^\n]+[.]\n$/)
    expect(ended.err).toContain('Planned')
    expect(ended.err).toContain(join(out, 'secret'))
    const papers = papersIn(out)
    expect(filesUnder(out)).toEqual([...papers.map(({ path }) => join(out, path)), join(out, 'papers.json')].sort())
    expect(papers.some(({ secret }) => secret)).toBe(true)
    for (const { path, secret } of papers) {
      expect(path.startsWith('secret/')).toBe(secret)
      if (secret) expect(statSync(join(out, path)).mode & 0o777).toBe(0o600)
    }
    expect(statSync(join(out, 'secret')).mode & 0o777).toBe(0o700)
    const log = JSON.stringify(await inRegister(data, ({ access }) => access.entries()))
    expect(log).toContain('"order":"26-041"')
    expect(log).toContain('secret/')
    expectNoWorksKey(ended, [data, out])
  })

  it('gives the same codes when the same order is planned again, here with --json, and takes old papers away', async () => {
    const { folder, out, data } = ownWorks()
    const secrets = () =>
      filesUnder(join(out, 'secret'))
        .filter((file) => file.endsWith('.csv'))
        .map((file) => readFileSync(file, 'utf8'))
    const near = await haspwright(['plan', 'order.json', '--out', 'out'], { cwd: folder, data })
    expectNoWorksKey(near, [data, out])
    const first = secrets()
    expect(first.length).toBeGreaterThan(0)
    writeFileSync(join(out, 'notes.txt'), 'mine')
    const again = await haspwright(['plan', HARBOUR, '--out', out, '--json', '--quiet'], { data })
    expect(again).toMatchObject({ status: 0, err: '' })
    expect(JSON.parse(again.out)).toMatchObject({
      order: '26-041',
      sentence: { verdict: expect.any(String), text: expect.any(String) },
      lots: expect.any(Array),
      papers: expect.arrayContaining([expect.objectContaining({ secret: true })]),
    })
    expect(secrets()).toEqual(first)
    await haspwright(['plan', demoFile('orders/26-047-replacement-key.json'), '--out', out], { data })
    const expected = [...papersIn(out).map(({ path }) => path), 'papers.json', 'notes.txt']
    expect(filesUnder(out)).toEqual(expected.map((path) => join(out, path)).sort())
  })

  it('takes designs and works from the data folder where no file stands near the order', async () => {
    const { data, out } = ownWorks()
    await inRegister(data, async ({ designs, works }) => {
      await designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' })
      await works.save(WORKS_ID, demoJson('works.json') as Works, { actor: 'R' })
    })
    const alone = join(temporaryFolder(), 'order.json')
    writeFileSync(alone, JSON.stringify(demoJson('orders/26-041-harbour.json')))
    expect((await haspwright(['plan', alone, '--out', out], { data })).status).toBe(0)
    const issues = issuesOf(await haspwright(['plan', alone, '--out', out], { data: temporaryFolder() }))
    expect(issues[0]?.message).toContain('--works')
  })

  it('tells the issues of all files together, each with its file, and leaves the folder as it was', async () => {
    const order = demoJson('orders/26-041-harbour.json') as { lines: Record<string, unknown>[] }
    const design = demoJson('designs/hb50.json') as Record<string, Record<string, unknown>>
    const works = demoJson('works.json') as Record<string, Record<string, unknown>>
    const { folder, out, data } = ownWorks({
      order: { ...order, lines: order.lines.map((line) => ({ ...line, quantity: 1e9 })) },
      design: {
        ...design,
        barrel: { ...design['barrel'], lengthMm: 0 },
        ball: { ...design['ball'], diameter: { ...(design['ball']?.['diameter'] as object), plusMm: -0.1 } },
        shackle: { ...design['shackle'], steel: 'unobtainium' },
      },
      works: { ...works, saw: { ...works['saw'], kerfMm: 'thin' } },
    })
    mkdirSync(out)
    writeFileSync(join(out, 'traveller.pdf'), 'an earlier plan')
    const ended = await haspwright(['plan', 'order.json', '--out', 'out'], { cwd: folder, data })
    const paths = issuesOf(ended).map(({ path }) => path)
    expect(paths).toEqual(
      expect.arrayContaining([
        'order.json: lines[0].quantity',
        join('designs', 'hb50.json: barrel.lengthMm'),
        join('designs', 'hb50.json: ball.diameter.plusMm'),
        join('designs', 'hb50.json: shackle.steel'),
        'works.json: saw.kerfMm',
      ]),
    )
    expect(filesUnder(folder).filter((file) => file.startsWith(out))).toEqual([join(out, 'traveller.pdf')])
    expect(readFileSync(join(out, 'traveller.pdf'), 'utf8')).toBe('an earlier plan')
  })

  it.each([
    ['an empty file', '', 'nothing in it'],
    ['wrong JSON', '{"id": 26-041}', 'line 1, column 10'],
    ['5 MB of garbage', '\u0000garbage'.repeat(625_000), 'too large'],
  ])('refuses %s as an order, a design and works, and loses nothing', async (_, content, words) => {
    const { folder, out, data } = ownWorks({ order: content, design: content, works: content })
    mkdirSync(out)
    const before = filesUnder(folder)
    const issues = issuesOf(await haspwright(['plan', 'order.json', '--out', 'out'], { cwd: folder, data }))
    expect(issues.map(({ path }) => path).sort()).toEqual([join('designs', 'hb50.json'), 'order.json', 'works.json'])
    for (const { message } of issues) expect(message).toContain(words)
    expect(filesUnder(folder)).toEqual(before)
  })

  it('plans beside a server that is running over the same data folder, which is served on', async () => {
    const { out, data } = ownWorks()
    // With a design in it, it is no empty folder into which the server would put the demo.
    const hasDesign = ({ designs }: Register) =>
      designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' })
    await inRegister(data, hasDesign, { embedded: true })
    const server = await start(['serve', '--port', '0'], { data, embedded: true })
    const ended = new Promise((resolve) => server.once('close', resolve))
    onTestFinished(async () => {
      server.kill('SIGTERM')
      await ended
    })
    const address = await new Promise<string>((resolve) => server.stdout?.once('data', (line) => resolve(String(line))))
    const alone = await haspwright(['plan', HARBOUR, '--out', out, '--quiet'], { data, embedded: true })
    expect(alone.status).toBe(0)
    const somebody = { email: 'nobody@tarnmoor.example', password: 'not a password of anybody' }
    const answer = await fetch(`${address.trim()}/api/sign-in`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(somebody),
    })
    expect(answer.status).toBe(401) // looked up in the database, and not found
    const postmaster = join(data, 'database', 'cluster', 'postmaster.pid')
    expect(existsSync(postmaster)).toBe(true)
    server.kill('SIGTERM')
    expect(await ended).toBe(0)
    expect(existsSync(postmaster)).toBe(false)
  })

  it('names a damaged file of an earlier version, and what to do', async () => {
    const { folder, data } = ownWorks()
    const damaged = join(data, 'orders', '26-040', '1.json')
    mkdirSync(dirname(damaged), { recursive: true })
    writeFileSync(damaged, '{"schema": "hasp')
    const ended = await haspwright(['plan', HARBOUR, '--out', join(folder, 'second'), '--quiet'], { data })
    expect(issuesOf(ended)[0]).toMatchObject({ path: damaged, message: expect.stringContaining('good copy') })
    expect(readdirSync(folder)).not.toContain('second')
  })

  it('says which folder refuses when codes cannot be kept', async () => {
    const { folder } = ownWorks()
    const words = ['plan', 'order.json', '--quiet', '--out', 'out', '--data', 'works.json']
    const issues = issuesOf(await haspwright(words, { cwd: folder }))
    expect(issues[0]?.path).toContain(join(folder, 'works.json'))
    expect(readdirSync(folder)).not.toContain('out')
  })

  it.each(['works.json', 'works.json/papers'])('does not take a file for a folder: --out %s', async (out) => {
    const { folder } = ownWorks()
    const issues = issuesOf(await haspwright(['plan', 'order.json', '--out', out], { cwd: folder }))
    expect(issues).toEqual([expect.objectContaining({ path: '--out', value: out })])
  })
})

describe('haspwright check', () => {
  it('finds nothing wrong with the demo', async () => {
    const files = ['works.json', 'designs/hb50.json', 'designs/ry40.json', 'orders/26-041-harbour.json'].map(demoFile)
    const { status, out } = await haspwright(['check', ...files])
    expect(status).toBe(0)
    expect(out.trimEnd().split('\n')).toHaveLength(files.length)
  })

  it('tells every issue of every file, each with its file', async () => {
    const { folder } = ownWorks({ design: { schema: 'haspwright/lock/1' }, works: '{' })
    const order = demoJson('orders/26-041-harbour.json')
    writeFileSync(join(folder, 'order.json'), JSON.stringify({ ...order, due: 'soon', colour: 'red' }))
    const issues = issuesOf(
      await haspwright(['check', 'order.json', 'designs/hb50.json', 'works.json', 'none.json'], { cwd: folder }),
    )
    expect(issues.map(({ path }) => path)).toEqual([
      'order.json: due',
      'order.json: colour',
      'designs/hb50.json: schema',
      'works.json',
      'none.json',
    ])
  })
})
