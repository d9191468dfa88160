import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import railyard from '../../../demo/designs/ry40.json'
import harbourOrder from '../../../demo/orders/26-041-harbour.json'
import railOrder from '../../../demo/orders/26-044-rail-yard.json'
import keyOrder from '../../../demo/orders/26-047-replacement-key.json'
import works from '../../../demo/works.json'
import { read } from '../reading.ts'
import { Design } from './design.ts'
import { Order } from './order.ts'
import { Works } from './resources.ts'

describe('the files of the invented works', () => {
  it.each([harbour, railyard])('design $id is without an issue', (file) => {
    expect(read(Design, file)).toMatchObject({ ok: true })
  })
  it.each([harbourOrder, railOrder, keyOrder])('order $id is without an issue', (file) => {
    expect(read(Order, file)).toMatchObject({ ok: true })
  })
  it('works file is without an issue', () => {
    expect(read(Works, works)).toMatchObject({ ok: true })
  })
})
