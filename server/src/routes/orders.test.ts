import type { Design, Finding, Order } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { appOverEmptyFolder, appWithDemo, harbourDesign, harbourOrder } from '../app.testing.ts'
import type { ErrorBody, OrderSummary, PlannedOrder } from '../wire.ts'

const bodyOf = async <T>(response: Response | Promise<Response>) => (await response).json() as Promise<T>

describe('the demo in an empty data folder', () => {
  it('is there with every order planned', async () => {
    const { get } = await appWithDemo()
    const { orders } = await bodyOf<{ orders: OrderSummary[] }>(get('/api/orders'))
    expect(orders.map(({ id, planState }) => [id, planState])).toEqual([
      ['26-047', 'current'],
      ['26-044', 'current'],
      ['26-041', 'current'],
    ])
    expect(orders.at(-1)).toMatchObject({ locks: 480, designs: ['HB50'], sentence: { verdict: expect.any(String) } })
    const planned = await bodyOf<PlannedOrder>(get('/api/orders/26-041'))
    expect(planned).toMatchObject({ version: 1, planState: 'current', issues: [] })
    expect(planned.plan?.findings.length).toBeGreaterThan(5)
    expect(planned.plan?.sentence).toEqual(orders.at(-1)?.sentence)
  })
})

describe('handing in an order', () => {
  it('plans and stores it, and gives the stored one when it is handed in again', async () => {
    const { post, get } = await appWithDemo()
    const order: Order = { ...harbourOrder, id: '26-050' }
    const first = await post('/api/orders', order)
    expect(first.status).toBe(201)
    expect(first.headers.get('location')).toBe('/api/orders/26-050')
    expect(await bodyOf(first)).toMatchObject({ order, version: 1, planState: 'current', plan: { order } })
    const again = await post('/api/orders', order)
    expect(again.status).toBe(200)
    expect(await bodyOf(get('/api/orders/26-050'))).toMatchObject({ version: 1, planState: 'current' })
  })

  it('shows both when another order of that number is stored, and changes nothing', async () => {
    const { post, get } = await appWithDemo()
    const theirs = await bodyOf<PlannedOrder>(get('/api/orders/26-041'))
    const given = { ...harbourOrder, due: '2027-03-01' }
    const response = await post('/api/orders', given)
    expect(response.status).toBe(409)
    expect(await bodyOf<ErrorBody>(response)).toMatchObject({
      issues: [{ code: 'contradiction' }],
      conflict: { stored: { version: 1, content: harbourOrder }, given },
    })
    expect(await bodyOf(get('/api/orders/26-041'))).toEqual(theirs)
  })

  it('stores one of many different orders of one number handed in at once', async () => {
    const { post } = await appWithDemo()
    const statuses = await Promise.all(
      Array.from({ length: 5 }, async (_, i) => {
        const order = { ...harbourOrder, id: '26-060', due: `2027-03-1${i}` }
        return (await post('/api/orders', order)).status
      }),
    )
    expect(statuses.sort()).toEqual([201, 409, 409, 409, 409])
  })

  it('says what is missing when there are no designs and no works yet', async () => {
    const { post, register } = await appOverEmptyFolder()
    const response = await post('/api/orders', harbourOrder)
    expect(response.status).toBe(422)
    expect(await register.orders.ids()).toEqual([])
  })

  it('tells at once everything that is wrong', async () => {
    const { post, register } = await appWithDemo()
    const [line] = harbourOrder.lines
    const bad = {
      ...harbourOrder,
      id: '26-070',
      lines: [{ ...line, quantity: 1e9, keysPerLock: -1, colour: 'red' }],
      due: 'soon',
    }
    const response = await post('/api/orders', bad)
    expect(response.status).toBe(422)
    const { issues } = await bodyOf<ErrorBody>(response)
    expect(issues.map(({ path }) => path).sort()).toEqual([
      'due',
      'lines[0].colour',
      'lines[0].keysPerLock',
      'lines[0].quantity',
    ])
    expect(issues).toContainEqual(
      expect.objectContaining({ path: 'lines[0].quantity', value: 1e9, allowed: expect.stringContaining('100000') }),
    )
    expect(await register.orders.ids()).not.toContain('26-070')
  })

  it('names a design that is not there by the path of its line', async () => {
    const { post } = await appWithDemo()
    const lines = harbourOrder.lines.map((line) => ({ ...line, design: 'HB99' }))
    const { issues } = await bodyOf<ErrorBody>(post('/api/orders', { ...harbourOrder, id: '26-071', lines }))
    expect(issues[0]).toMatchObject({ path: 'lines[0].design', code: 'not-found', value: 'HB99' })
  })

  it.each([
    ['nothing', '', 422, 'nothing in it'],
    ['wrong JSON', '{"schema": "haspwright/order/1", "id": }', 422, 'line 1, column 40'],
    ['a works file', { schema: 'haspwright/works/1' }, 422, 'Order number is missing'],
    ['5 MB of garbage', '\u0000garbage'.repeat(625_000), 413, 'too large'],
  ])('answers %s with a clear error and loses nothing', async (_, body, status, words) => {
    const { post, get } = await appWithDemo()
    const before = await bodyOf(get('/api/orders'))
    const response = await post('/api/orders', body)
    expect(response.status).toBe(status)
    const text = await response.text()
    expect(text).toContain(words)
    expect(text.length).toBeLessThan(5000)
    expect(await bodyOf(get('/api/orders'))).toEqual(before)
  })
})

describe('planning again', () => {
  it('moves the margin when a tolerance was changed, and remembers the first plan', async () => {
    const { get, post, put } = await appWithDemo()
    const before = await bodyOf<PlannedOrder>(get('/api/orders/26-041'))
    const widened: Design = {
      ...harbourDesign,
      barrel: {
        ...harbourDesign.barrel,
        recessDepth: {
          ...harbourDesign.barrel.recessDepth,
          nominalMm: harbourDesign.barrel.recessDepth.nominalMm + 0.05,
        },
      },
    }
    expect((await put('/api/designs/HB50', widened, { 'if-match': '"1"' })).status).toBe(200)
    expect(await bodyOf(get('/api/orders/26-041'))).toMatchObject({ planState: 'outdated', plan: before.plan })
    const after = await bodyOf<PlannedOrder>(post('/api/orders/26-041/plan', {}))
    expect(after.planState).toBe('current')
    expect(releaseMargins(after)).not.toEqual(releaseMargins(before))
    await put('/api/designs/HB50', harbourDesign, { 'if-match': '"2"' })
    const back = await bodyOf<PlannedOrder>(post('/api/orders/26-041/plan', {}))
    expect(back.plan).toEqual(before.plan)
  })

  it('is done once for everybody who asks at the same time', async () => {
    const { post, put } = await appWithDemo()
    await put('/api/designs/HB50', { ...harbourDesign, title: 'Renamed' }, { 'if-match': '"1"' })
    const answers = await Promise.all(
      Array.from({ length: 4 }, () => bodyOf<PlannedOrder>(post('/api/orders/26-041/plan', {}))),
    )
    for (const answer of answers) expect(answer.plan).toEqual(answers[0]?.plan)
  })

  it('finds no order that is not there', async () => {
    const { post, get } = await appWithDemo()
    expect((await post('/api/orders/26-999/plan', {})).status).toBe(404)
    expect((await get('/api/orders/..%2f..%2fetc')).status).toBe(404)
  })
})

const releaseMargins = ({ plan }: PlannedOrder) =>
  plan?.findings.filter(({ id }: Finding) => /release/.test(id)).map(({ id, margin }: Finding) => [id, margin])

describe('an order that cannot be used any more', () => {
  it('is named with what is wrong, and the others go on', async () => {
    const { get, database, logged } = await appWithDemo()
    const intruder = await database.administrator()
    const damaged = { ...harbourOrder, id: '26-080', due: 'soon' }
    await intruder.query(`INSERT INTO orders SELECT works_id, '26-080', 1, $1, now() FROM works`, [
      JSON.stringify(damaged),
    ])
    const place = 'orders 26-080, version 1'
    const { orders, issues } = await bodyOf<{ orders: OrderSummary[]; issues: { path: string }[] }>(get('/api/orders'))
    expect(orders).toHaveLength(3)
    expect(issues.map(({ path }) => path)).toEqual([
      expect.stringContaining(place),
      expect.stringMatching(/version 1: due$/),
    ])
    const response = await get('/api/orders/26-080')
    expect(response.status).toBe(503)
    expect(await response.text()).toContain('Nothing was changed')
    expect(logged.join()).toContain(place)
  })
})
