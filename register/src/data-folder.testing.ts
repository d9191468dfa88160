import { mkdtempSync, rmSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import {
  type CodeAllocation,
  type Design,
  issueNumbers,
  numbersIn,
  type Order,
  readRuns,
  runsOf,
  runText,
} from '@haspwright/engine'
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

/** Gives every lock of an order the next free number of its space, and the number as its blind code. */
export function allocateOneByOne(order: Order): Allocate {
  return async ({ known, given }) => {
    // Designs of one space are told the same.
    const taken = new Map<string, bigint[]>()
    const next = (design: string) => {
      const { out = '', kept = '' } = known[design] ?? {}
      const numbers = taken.get(`${out}/${kept}`) ?? [...numbersIn(readRuns(out)), ...numbersIn(readRuns(kept))]
      taken.set(`${out}/${kept}`, numbers)
      const number = issueNumbers(...numbers).firstFree(0n)
      numbers.push(number)
      return number
    }
    const lines = order.lines.map(({ id, design, quantity }) => {
      const before = given?.find(({ line }) => line === id)
      const numbers =
        before === undefined
          ? Array.from({ length: quantity }, () => next(design))
          : [...numbersIn(readRuns(before.numbers))]
      return { line: id, design, numbers }
    })
    const allocation: CodeAllocation = {
      order: order.id,
      keys: [],
      locks: lines.flatMap(({ line, design, numbers }) =>
        numbers.map((number, i) => ({
          name: `${line}-${String(i + 1).padStart(3, '0')}`,
          lot: `${order.id}-${line}1`,
          design,
          blindCode: `${design}/${number}`,
          gates: [],
          openedBy: [],
          tryKeys: [],
        })),
      ),
      given: lines.map(({ line, design, numbers }) => ({
        line,
        design,
        numbers: runText(runsOf(numbers)),
        passedOver: '',
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
