import { Order, read } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { appOverEmptyFolder, appWithDemo, harbourDesign, harbourOrder } from './app.testing.ts'
import { createClient, ServerRefusal } from './client.ts'
import { orderExample, orderExampleCsv } from './openapi/order-example.ts'
import { orderFromCsv } from './order-csv.ts'

describe('every answer', () => {
  it('carries no inline script, is framed by nobody, and its type is not guessed', async () => {
    const { get } = await appOverEmptyFolder()
    for (const path of ['/api/health', '/api/orders/none', '/api/nothing']) {
      const { headers } = await get(path)
      const policy = headers.get('content-security-policy') ?? ''
      expect(policy).toContain("frame-ancestors 'none'")
      expect(/script-src ([^;]*)/.exec(policy)?.[1]).not.toContain('unsafe-inline')
      expect(headers.get('x-content-type-options')).toBe('nosniff')
      expect(headers.get('cache-control')).toBe('no-store')
    }
  })

  it('is refused to a page that reaches this machine under another name', async () => {
    const { app } = await appOverEmptyFolder({ allowedHosts: new Set(['localhost', '127.0.0.1']) })
    expect((await app.request('http://localhost:4170/api/health')).status).toBe(200)
    expect((await app.request('http://127.0.0.1/api/health')).status).toBe(200)
    expect((await app.request('http://elsewhere.example/api/health')).status).toBe(421)
  })
})

describe('the OpenAPI document', () => {
  it('refers to nothing that it does not hold', async () => {
    const { get } = await appOverEmptyFolder()
    const text = await (await get('/api/openapi.json')).text()
    const document: unknown = JSON.parse(text)
    const pointers = [...text.matchAll(/"\$ref":"#\/([^"]+)"/g)].map(([, pointer]) => pointer ?? '')
    expect(pointers.length).toBeGreaterThan(100)
    for (const pointer of pointers)
      expect(
        pointer.split('/').reduce<unknown>((at, step) => (at as Record<string, unknown> | undefined)?.[step], document),
        pointer,
      ).toBeDefined()
  })

  it('names every operation once, under a subject that it describes', async () => {
    const { app } = await appOverEmptyFolder()
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    const { paths, tags } = await client.apiDocument()
    const operations = Object.values(paths).flatMap(({ parameters: _, ...methods }) => Object.values(methods))
    expect(new Set(operations.map(({ operationId }) => operationId)).size).toBe(operations.length)
    for (const operation of operations) expect(tags.map(({ name }) => name)).toContain(operation.tags[0])
    for (const { name } of tags) expect(operations.map((operation) => operation.tags[0])).toContain(name)
  })

  it('shows an order that is accepted, as JSON and as a table', () => {
    expect(read(Order, orderExample)).toMatchObject({ ok: true })
    expect(orderFromCsv(orderExampleCsv)).toEqual({ ok: true, order: orderExample })
  })

  it('and the schemas of the file formats are had by name', async () => {
    const { get } = await appOverEmptyFolder()
    for (const name of ['design', 'order', 'works'])
      expect(await (await get(`/api/schemas/${name}.json`)).json()).toMatchObject({
        type: 'object',
        title: expect.any(String),
      })
    expect((await get('/api/schemas/lock.json')).status).toBe(404)
  })
})

describe('the typed client', () => {
  it('asks for everything the pages need', async () => {
    const { app } = await appWithDemo()
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    expect((await client.listOrders()).orders.map(({ id }) => id)).toContain('26-041')
    expect((await client.getOrder('26-041')).planState).toBe('current')
    expect((await client.planOrder('26-041')).plan).not.toBeNull()
    expect((await client.submitOrder({ ...harbourOrder, id: '26-090' })).version).toBe(1)
    expect((await client.listDesigns()).map(({ id }) => id)).toEqual(['HB50', 'RY40'])
    const { content, version } = await client.getDesign('HB50')
    expect((await client.saveDesign('HB50', { ...content, title: 'New' }, version)).version).toBe(2)
    expect((await client.saveDesign('HB70', { ...content, id: 'HB70' }, 0)).version).toBe(1)
    expect((await client.getWorks()).content.name).toBe('Tarnmoor Padlock Works')
    expect((await client.listSources()).length).toBeGreaterThan(0)
    const secret = (await client.listPapers('26-041')).find((paper) => paper.secret)
    const blob = await client.openCodePaper('26-041', { path: secret?.path ?? '', reason: 'cutting keys' })
    expect(blob.size).toBe(secret?.bytes)
  })

  it('tells what kind of refusal it was, with issues, conflict or reference', async () => {
    const { app } = await appWithDemo()
    const client = createClient({ fetcher: (url, init) => app.request(url, init) })
    const refused = (asked: Promise<unknown>) =>
      asked.then(
        () => expect.unreachable('it was answered'),
        (cause: unknown) => cause,
      )
    expect(await refused(client.getOrder('none'))).toMatchObject({ kind: 'not-found', status: 404 })
    expect(await refused(client.submitOrder({}))).toMatchObject({ kind: 'issues', status: 422 })
    await client.saveDesign('HB50', { ...harbourDesign, title: 'Theirs' }, 1)
    const conflict = await refused(client.saveDesign('HB50', { ...harbourDesign, title: 'Mine' }, 1))
    expect(conflict).toMatchObject({ kind: 'conflict', conflict: { stored: { version: 2 }, given: { title: 'Mine' } } })
    const down = createClient({ fetcher: () => Promise.reject(new TypeError('fetch failed')) })
    expect(await refused(down.listOrders())).toMatchObject({ kind: 'unreachable', status: 0 })
    expect(await refused(down.listOrders())).toBeInstanceOf(ServerRefusal)
  })
})
