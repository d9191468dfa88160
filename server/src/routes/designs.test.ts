import { describe, expect, it } from 'vitest'
import { appWithDemo, harbourDesign } from '../app.testing.ts'
import type { ErrorBody } from '../wire.ts'

describe('designs over HTTP', () => {
  it('are listed and had with their version', async () => {
    const { get } = await appWithDemo()
    expect(await (await get('/api/designs')).json()).toMatchObject({
      designs: [
        { id: 'HB50', version: 1 },
        { id: 'RY40', version: 1 },
      ],
    })
    const response = await get('/api/designs/HB50')
    expect(response.headers.get('etag')).toBe('"1"')
    expect(await response.json()).toEqual({ version: 1, content: harbourDesign })
    expect((await get('/api/designs/NONE')).status).toBe(404)
  })

  it('are stored as a new version, and the older one stays', async () => {
    const { get, put } = await appWithDemo()
    const changed = { ...harbourDesign, title: 'Harbour 50, revised' }
    const response = await put('/api/designs/HB50', changed, { 'if-match': '"1"' })
    expect(await response.json()).toEqual({ version: 2, content: changed })
    expect(await (await get('/api/designs/HB50?version=1')).json()).toEqual({ version: 1, content: harbourDesign })
    expect((await get('/api/designs/HB50?version=3')).status).toBe(404)
  })

  it('are not overwritten unseen: both versions are shown', async () => {
    const { put } = await appWithDemo()
    const theirs = { ...harbourDesign, title: 'Theirs' }
    const mine = { ...harbourDesign, title: 'Mine' }
    await put('/api/designs/HB50', theirs, { 'if-match': '"1"' })
    const late = await put('/api/designs/HB50', mine, { 'if-match': '"1"' })
    expect(late.status).toBe(412)
    expect(((await late.json()) as ErrorBody).conflict).toEqual({
      stored: { version: 2, content: theirs },
      given: mine,
    })
    expect((await put('/api/designs/HB50', mine, { 'if-none-match': '*' })).status).toBe(412)
    expect((await put('/api/designs/HB50', mine)).status).toBe(428)
  })

  it('are stored new only when there is none of that number', async () => {
    const { put } = await appWithDemo()
    const design = { ...harbourDesign, id: 'HB60' }
    expect((await put('/api/designs/HB60', design, { 'if-match': '"1"' })).status).toBe(422)
    expect((await put('/api/designs/HB60', design, { 'if-none-match': '*' })).status).toBe(200)
    expect((await put('/api/designs/HB61', design, { 'if-none-match': '*' })).status).toBe(422)
  })

  it('with a zero length, a negative tolerance and an unknown metal are refused, all at once, and nothing is lost', async () => {
    const { put, get } = await appWithDemo()
    const [layer] = harbourDesign.coating.layers
    const bad = {
      ...harbourDesign,
      barrel: { ...harbourDesign.barrel, lengthMm: 0 },
      body: { ...harbourDesign.body, height: { ...harbourDesign.body.height, plusMm: -0.1 } },
      coating: { ...harbourDesign.coating, layers: [{ ...layer, metal: 'unobtainium' }] },
    }
    const response = await put('/api/designs/HB50', bad, { 'if-match': '"1"' })
    expect(response.status).toBe(422)
    const { issues } = (await response.json()) as ErrorBody
    expect(issues.map(({ path }) => path).sort()).toEqual([
      'barrel.lengthMm',
      'body.height.plusMm',
      'coating.layers[0].metal',
    ])
    for (const issue of issues) expect(issue.allowed).toBeTruthy()
    expect(await (await get('/api/designs/HB50')).json()).toEqual({ version: 1, content: harbourDesign })
  })
})

describe('the works over HTTP', () => {
  it('is had with its version', async () => {
    const { get } = await appWithDemo()
    expect(await (await get('/api/works')).json()).toMatchObject({
      version: 1,
      content: { schema: 'haspwright/works/1' },
    })
  })
})
