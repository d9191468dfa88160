import { WORKS_ID } from '@haspwright/register'
import { describe, expect, it } from 'vitest'
import { appWithDemo } from '../app.testing.ts'
import { createClient } from '../client.ts'
import { directPlanner, type Planner } from '../planning/planner.ts'
import type { ErrorBody } from '../wire.ts'

/** The planner of this process, which counts how often geometry is made. */
function countingPlanner() {
  const made: string[] = []
  const planner: Planner = {
    ...directPlanner,
    solids: (input, waiting) => {
      made.push(input.kinds.join())
      return directPlanner.solids(input, waiting)
    },
  }
  return { planner, made }
}

describe('the geometry of a design over HTTP', () => {
  it('drawings are listed, fetched by their address and tag, and made once', async () => {
    const { planner, made } = countingPlanner()
    const { app, get } = await appWithDemo({ planner })
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    const files = await client.listSolidFiles('HB50', 'dxf')
    expect(files.map(({ path }) => path)).toContain('dxf/HB50-body.dxf')
    for (const { href, mediaType, bytes } of files) {
      const response = await get(href)
      expect(response.status).toBe(200)
      expect(response.headers.get('content-type')).toBe(mediaType)
      expect((await response.arrayBuffer()).byteLength).toBe(bytes)
      expect((await get(href, { 'if-none-match': response.headers.get('etag') ?? '' })).status).toBe(304)
    }
    expect(made).toEqual(['dxf'])
  })

  it('two who ask at once are given what is made once', async () => {
    const { planner, made } = countingPlanner()
    const { get } = await appWithDemo({ planner })
    await Promise.all([1, 2].map(() => get('/api/designs/HB50/solids/files?kind=svg')))
    expect(made).toEqual(['svg'])
  })

  it('a changed design is made anew, and the older version stays to be had', async () => {
    const { get, put } = await appWithDemo()
    const { content } = (await (await get('/api/designs/HB50')).json()) as { content: { title: string } }
    await put('/api/designs/HB50', { ...content, title: 'Harbour 50, revised' }, { 'if-match': '"1"' })
    const text = async (query: string) => (await get(`/api/designs/HB50/solids/files/svg/HB50-body.svg${query}`)).text()
    expect(await text('')).toContain('Harbour 50, revised')
    expect(await text('?version=1')).not.toContain('Harbour 50, revised')
  })

  it('a saved design is built ahead, mesh and measures from one model: who asks then has nothing made anew', async () => {
    const { planner, made } = countingPlanner()
    const { get, put } = await appWithDemo({ planner, preparesSolids: true })
    const { content } = (await (await get('/api/designs/RY40')).json()) as { content: { title: string } }
    await put('/api/designs/RY40', { ...content, title: 'Rail yard 40, revised' }, { 'if-match': '"1"' })
    const asked = await Promise.all(['mesh', 'report'].map((kind) => get(`/api/designs/RY40/solids/${kind}`)))
    expect(asked.map(({ status }) => status)).toEqual([200, 200])
    expect(made).toEqual(['mesh,report'])
  }, 180_000)

  it('the report says what a rack of the works takes; a works with fewer places gets another load, from the same solids', async () => {
    const { planner, made } = countingPlanner()
    const { app, get, register } = await appWithDemo({ planner })
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    const { plated, rack } = await client.getSolidReport('RY40')
    if (rack?.ok !== true) throw new Error('no rack')
    expect(rack.rack.rackDm2).toBeCloseTo(plated.currentDm2 * rack.rack.locks, 9)
    const first = await get('/api/designs/RY40/solids/report')
    const tag = { 'if-none-match': first.headers.get('etag') ?? '' }
    expect((await get('/api/designs/RY40/solids/report', tag)).status).toBe(304)
    const { content, version } = await client.getWorks()
    const fewer = { ...content, plating: { ...content.plating, rackPositions: 5 } }
    await register.works.save(WORKS_ID, fewer, { actor: 'R. Thorne', expected: version })
    const changed = await get('/api/designs/RY40/solids/report', tag)
    expect(changed.status).toBe(200)
    expect(await changed.json()).toMatchObject({ rack: { ok: true, rack: { locks: 5, limitedBy: 'places' } } })
    expect(made).toEqual(['report'])
  }, 180_000)

  it('the mesh is read by the client: parts, and where they stand from locked to open', async () => {
    const { app } = await appWithDemo()
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    const { states, parts, placed } = await client.getLockMesh('RY40')
    expect([states[0], states.at(-1)]).toEqual(['locked', 'open'])
    expect(placed.filter(({ name }) => name.startsWith('Disc'))).toHaveLength(7)
    for (const { part } of placed) expect(parts.some(({ key }) => key === part)).toBe(true)
  }, 120_000)

  it.each([
    ['/api/designs/NONE/solids/mesh', 404],
    ['/api/designs/NONE/solids/files?kind=step', 404],
    ['/api/designs/HB50/solids/files', 422],
    ['/api/designs/HB50/solids/files?kind=stl', 422],
    ['/api/designs/HB50/solids/files/svg/none.svg', 404],
    ['/api/designs/HB50/solids/files/..%2f..%2fworks.key', 404],
  ])('%s is refused with status %d', async (path, status) => {
    const { get } = await appWithDemo()
    const response = await get(path)
    expect(response.status).toBe(status)
    expect(((await response.json()) as ErrorBody).issues).toHaveLength(1)
  })
})
