import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { appWithPapers, harbourDesign, harbourOrder, WORKS_KEY } from '../app.testing.ts'
import { codesFor } from '../planning/codes-for.ts'
import { directPlanner } from '../planning/planner.ts'
import type { PaperListing } from '../wire.ts'

async function listOf({ get }: Awaited<ReturnType<typeof appWithPapers>>, order = '26-041') {
  return ((await (await get(`/api/orders/${order}/papers`)).json()) as { papers: PaperListing[] }).papers
}

describe('the papers of an order', () => {
  it.each(['..%2flast%2f26-041', '%2e%2e%2flast%2f26-041', '%00', '26-041%00'])(
    'are not reached by an order number that leads elsewhere: %s',
    async (id) => {
      const { get } = await appWithPapers()
      for (const path of ['papers', 'papers/margins.pdf']) {
        const { status } = await get(`/api/orders/${id}/${path}`)
        expect([404, 422]).toContain(status)
      }
    },
  )

  it('are listed, and each that is no secret comes from its address with type and tag', async () => {
    const bench = await appWithPapers()
    const papers = await listOf(bench)
    expect(papers.length).toBeGreaterThan(2)
    for (const { href, mediaType, bytes, secret } of papers) {
      expect(href === undefined).toBe(secret)
      if (href === undefined) continue
      const response = await bench.get(href)
      expect(response.status).toBe(200)
      expect(response.headers.get('content-type')).toBe(mediaType)
      expect((await response.arrayBuffer()).byteLength).toBe(bytes)
      const tag = response.headers.get('etag') ?? ''
      expect((await bench.get(href, { 'if-none-match': tag })).status).toBe(304)
    }
  })

  it('are there for a replacement key too', async () => {
    expect((await listOf(await appWithPapers(), '26-047')).length).toBeGreaterThan(0)
  })

  it('with codes are not had from an address', async () => {
    const bench = await appWithPapers()
    const secret = (await listOf(bench)).find((paper) => paper.secret)
    const response = await bench.get(`/api/orders/26-041/papers/${secret?.path}`)
    expect(response.status).toBe(403)
    expect(await bench.register.access.entries()).toEqual([])
  })

  it('with codes are opened with a reason, which is written down, and no copy is kept', async () => {
    const bench = await appWithPapers()
    const secret = (await listOf(bench)).find((paper) => paper.secret)
    const asked = { path: secret?.path, reason: 'cutting the keys of lot A1' }
    const response = await bench.post('/api/orders/26-041/code-papers', asked)
    expect(response.status).toBe(200)
    expect(response.headers.get('cache-control')).toBe('no-store')
    expect(response.headers.get('content-type')).toBe(secret?.mediaType)
    const bytes = Buffer.from(await response.arrayBuffer())
    expect(await bench.register.access.entries()).toEqual([
      {
        at: expect.any(String),
        order: '26-041',
        paper: secret?.path,
        reason: asked.reason,
        who: 'R. Thorne (p-thorne)',
      },
    ])
    for (const file of filesUnder(bench.data)) expect(readFileSync(file).includes(bytes)).toBe(false)
  })

  it.each([
    [{ path: 'secret/none.pdf', reason: 'cutting keys' }, 404],
    [{ reason: 'cutting keys' }, 422],
    [{ path: 'secret/none.pdf', reason: '' }, 422],
    ['', 422],
  ])('with codes stay closed for %j, and nothing is written down', async (asked, status) => {
    const bench = await appWithPapers()
    expect((await bench.post('/api/orders/26-041/code-papers', asked)).status).toBe(status)
    expect(await bench.register.access.entries()).toEqual([])
  })

  it('that are no secret are not opened as one', async () => {
    const bench = await appWithPapers()
    const open = (await listOf(bench)).find((paper) => !paper.secret)
    const asked = { path: open?.path, reason: 'cutting keys' }
    expect((await bench.post('/api/orders/26-041/code-papers', asked)).status).toBe(404)
  })

  it('never lead out of the order', async () => {
    const { get } = await appWithPapers()
    for (const path of ['../../works.key', '..%2f..%2fworks.key', 'index.json'])
      expect((await get(`/api/orders/26-041/papers/${path}`)).status).toBe(404)
  })

  it('with codes are the only place where cuts stand: no answer, no log, no file, no row has them', async () => {
    const bench = await appWithPapers()
    const papers = await listOf(bench)
    const codes = await codesFor(
      { register: bench.register, planner: directPlanner },
      { order: harbourOrder, designs: [harbourDesign], by: { actor: 'R. Thorne' } },
    )
    const keys = codes.ok ? codes.value.keys : []
    expect(keys.length).toBeGreaterThan(300)
    const cuts = keys.filter(({ master }, i) => master || i % 10 === 0).map((key) => key.cuts)
    const written = cuts.flatMap((values) => [',', ', ', ' ', '-', ''].map((between) => values.join(between)))
    const findsCuts = (text: string) => written.some((one) => text.includes(one))
    expect(findsCuts(`${cuts[0]}`)).toBe(true)
    const secret = papers.find((paper) => paper.secret)?.path ?? ''
    const answers = [
      ...['/api/orders', '/api/orders/26-041', '/api/orders/26-047', '/api/orders/26-041/papers'].map((path) =>
        bench.get(path),
      ),
      ...papers.flatMap(({ href, mediaType }) =>
        href === undefined || mediaType === 'application/pdf' ? [] : [bench.get(href)],
      ),
      bench.post('/api/orders/26-041/plan', {}),
      bench.get(`/api/orders/26-041/papers/${secret}`),
      bench.post('/api/orders/26-041/code-papers', { path: secret }),
    ]
    for (const answer of answers) expect(findsCuts(await (await answer).text())).toBe(false)
    expect(findsCuts(bench.logged.join('\n'))).toBe(false)
    const texts = filesUnder(bench.data).map((file) => readFileSync(file, 'latin1'))
    for (const text of texts.filter((each) => !each.startsWith('%PDF'))) expect(findsCuts(text)).toBe(false)
    const rows = await bench.database.everything()
    expect(rows.length).toBeGreaterThan(keys.length)
    expect(findsCuts(rows.join('\n'))).toBe(false)
  })

  it('leave the works key nowhere: no answer, no log, no file, no row', async () => {
    const bench = await appWithPapers()
    const papers = await listOf(bench)
    const paths = ['/api/orders', '/api/orders/26-041', '/api/orders/26-041/papers', '/api/calc', '/api/designs/HB50']
    for (const path of [...paths, ...papers.flatMap(({ href }) => href ?? [])])
      expect((await (await bench.get(path)).text()).includes(WORKS_KEY)).toBe(false)
    expect(bench.logged.join('\n')).not.toContain(WORKS_KEY)
    for (const file of filesUnder(bench.data)) expect(readFileSync(file).includes(WORKS_KEY)).toBe(false)
    expect((await bench.database.everything()).join('\n')).not.toContain(WORKS_KEY)
  })
})

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
}
