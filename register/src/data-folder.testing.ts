import { mkdtempSync, rmSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { CodeAllocation, Design, Order } from '@haspwright/engine'
import { onTestFinished } from 'vitest'
import type { Allocate } from './register.ts'

/** An empty folder that is gone when the test is over. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

const demo = new URL('../../demo/', import.meta.url)
const demoFile = async (path: string) => JSON.parse(await readFile(new URL(path, demo), 'utf8')) as unknown

/** The demo's files are checked by its own tests; here they are taken as what they are. */
export const demoOrder = async () => (await demoFile('orders/26-041-harbour.json')) as Order
export const demoDesign = async () => (await demoFile('designs/hb50.json')) as Design

/** Gives every lock of an order the next number of its design, and the number as its blind code. */
export function allocateOneByOne(order: Order): Allocate {
  return async (start) => {
    const locks = order.lines.flatMap((line) =>
      Array.from({ length: line.quantity }, (_, i) => ({ line: line.id, design: line.design, number: i + 1 })),
    )
    const counts = new Map<string, bigint>()
    const allocation: CodeAllocation = {
      order: order.id,
      keys: [],
      locks: locks.map(({ line, design, number }) => {
        const used = counts.get(design) ?? 0n
        counts.set(design, used + 1n)
        return {
          name: `${line}-${String(number).padStart(3, '0')}`,
          lot: `${order.id}-${line}1`,
          design,
          blindCode: `${design}/${BigInt(start[design] ?? '0') + used}`,
          gates: [],
          openedBy: [],
          tryKeys: [],
        }
      }),
      consumed: [...counts].map(([design, count]) => ({
        design,
        start: start[design] ?? '0',
        count: count.toString(),
      })),
      notices: [],
    }
    return { ok: true, value: allocation }
  }
}

/** An order of one line over a design, as the ledger needs it. */
export function orderOf(order: Order, id: string, lines: { id: string; design: string; quantity: number }[]): Order {
  return {
    ...order,
    id,
    lines: lines.map((line) => ({ ...line, keying: { kind: 'different' }, keysPerLock: 2, spareKeys: 0 })),
  }
}
