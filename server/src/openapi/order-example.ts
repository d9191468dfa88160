import type { Order } from '@haspwright/engine'
import type { z } from 'zod'
import { ORDER_COLUMNS } from '../order-csv.ts'

const line = {
  id: 'A',
  design: 'HB50',
  quantity: 60,
  keying: { kind: 'different' },
  keysPerLock: 2,
  spareKeys: 0,
} as const

/** An order as an order system hands it in, of the invented works. */
export const orderExample: z.input<typeof Order> = {
  schema: 'haspwright/order/1',
  id: '26-120',
  customer: { name: 'Skerrivoe Harbour Authority', reference: 'spare gate locks' },
  received: '2026-11-26',
  due: '2027-02-26',
  lines: [line],
  lots: { maxLocks: 60 },
  release: { level: 'II', aqlPercent: 0.65, severity: 'normal', askedBy: 'Terms of the harbour authority' },
}

/** The same order as a table. */
export const orderExampleCsv: string = [ORDER_COLUMNS, ORDER_COLUMNS.map(cell)]
  .map((cells) => `${cells.join(',')}\n`)
  .join('')

/** The columns are named by their places in the JSON form; keying by its kind, the group of locks keyed alike by its name. */
function cell(column: string): string {
  if (column === 'line.keying') return line.keying.kind
  const at = (holder: unknown, key: string) => (holder as Record<string, unknown> | undefined)?.[key] // any part of the example
  return String(column.split('.').reduce<unknown>(at, { ...orderExample, line }) ?? '')
}
