import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import railyard from '../../../demo/designs/ry40.json'
import harbourOrder from '../../../demo/orders/26-041-harbour.json'
import railOrder from '../../../demo/orders/26-044-rail-yard.json'
import keyOrder from '../../../demo/orders/26-047-replacement-key.json'
import { read } from '../reading.ts'
import { allocateCodes, type DeliveredLock } from './allocate-codes.ts'
import { Design } from './design.ts'
import { shapeLots } from './lots.ts'
import { Order } from './order.ts'
import type { CodeAllocation } from './plan.ts'

const WORKS_KEY = '000102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f'

function checked<T extends typeof Design | typeof Order>(schema: T, file: unknown) {
  const reading = read(schema, file)
  if (!reading.ok) throw new Error(JSON.stringify(reading.issues))
  return reading.value
}
const designs = [harbour, railyard].map((file) => checked(Design, file) as Design)

function allocated(
  file: unknown,
  {
    start = {},
    worksKeyHex = WORKS_KEY,
    blindCodeOf,
  }: {
    start?: Record<string, string>
    worksKeyHex?: string
    blindCodeOf?: (lock: DeliveredLock) => string | undefined
  } = {},
): CodeAllocation {
  const order = checked(Order, file) as Order
  const result = allocateCodes({
    order,
    designs,
    worksKeyHex,
    start,
    ...(blindCodeOf === undefined ? {} : { blindCodeOf }),
  })
  if (!result.ok) throw new Error(result.issues.map(({ message }) => message).join(' '))
  return result.allocation
}

/** Every key of an allocation against every lock of the same design: which pairs open. */
function opens(cuts: readonly number[], gates: readonly (readonly number[])[]): boolean {
  return cuts.every((value, disc) => gates[disc]?.includes(value))
}

describe('codes of the harbour order', () => {
  const allocation = allocated(harbourOrder)
  const byName = new Map(allocation.keys.map((key) => [key.name, key]))

  it('has a key for each lock keyed different, one for each group alike, one for each lock and the master under the master', () => {
    expect(allocation.keys).toHaveLength(300 + 3 + 60 + 1)
    expect(allocation.locks).toHaveLength(480)
    expect(allocation.keys.filter(({ master }) => master).map(({ name, copies }) => [name, copies])).toEqual([
      ['C Harbour master', 4],
    ])
  })

  it('opens every lock with the keys it lists and with no other key of the order: every key tried in every lock', () => {
    let foreign = 0
    for (const { gates, openedBy } of allocation.locks)
      for (const { name, cuts } of allocation.keys) if (opens(cuts, gates) !== openedBy.includes(name)) foreign++
    expect(foreign).toBe(0)
  })

  it('cuts as many keys as the lots ask for', () => {
    const wanted = shapeLots(checked(Order, harbourOrder) as Order).reduce((total, { keys }) => total + keys, 0)
    expect(allocation.keys.reduce((total, { copies }) => total + copies, 0)).toBe(wanted)
  })

  it('gives no code and no blind code twice, and no key breaks a rule of the mechanism', () => {
    expect(new Set(allocation.keys.map(({ cuts }) => cuts.join())).size).toBe(allocation.keys.length)
    expect(new Set(allocation.keys.map(({ blindCode }) => blindCode)).size).toBe(allocation.keys.length)
    for (const { cuts } of allocation.keys) {
      expect(new Set(cuts).size).toBeGreaterThanOrEqual(3)
      expect(cuts.some((value, i) => value === cuts[i + 1] && value === cuts[i + 2])).toBe(false)
    }
  })

  it('names for each lock wrong keys to try before it is sealed, of its own lot where the lot has others', () => {
    for (const { tryKeys, openedBy, lot, name } of allocation.locks) {
      expect(tryKeys.length, name).toBe(2)
      for (const wrong of tryKeys) {
        expect(openedBy).not.toContain(wrong)
        if (!lot.includes('-B')) expect(byName.get(wrong)?.lot).toBe(lot)
      }
    }
  })

  it('is the same for the same start, another for another key, and never meets what a later start gives', () => {
    expect(allocated(harbourOrder)).toEqual(allocation)
    const otherKey = allocated(harbourOrder, { worksKeyHex: WORKS_KEY.replace('00', 'ff') })
    expect(otherKey.keys[0]?.cuts).not.toEqual(allocation.keys[0]?.cuts)
    const { count } = allocation.consumed[0] ?? { count: '0' }
    const later = allocated(harbourOrder, { start: { HB50: count } })
    const given = new Set(allocation.keys.map(({ cuts }) => cuts.join()))
    expect(later.keys.some(({ cuts }) => given.has(cuts.join()))).toBe(false)
    expect(later.consumed[0]?.start).toBe(count)
  })
})

describe('codes of other orders', () => {
  it('three groups under one yard master: a group master opens its own group and no other', () => {
    const { keys, locks } = allocated(railOrder)
    const north = keys.find(({ name }) => name === 'A North points')
    const yard = keys.find(({ name }) => name === 'A Yard master')
    if (north === undefined || yard === undefined) throw new Error('no master')
    const mastered = locks.filter(({ name }) => name.startsWith('A-'))
    expect(mastered.filter(({ gates }) => opens(yard.cuts, gates))).toHaveLength(220)
    expect(mastered.filter(({ gates }) => opens(north.cuts, gates))).toHaveLength(90)
    expect(Math.max(...mastered.flatMap(({ gates }) => gates.map((values) => values.length)))).toBeLessThanOrEqual(3)
  })

  it('the rail yard can be placed whatever the key of the works is', () => {
    for (let i = 0; i < 20; i++) {
      const worksKeyHex = (i + 1).toString(16).padStart(2, '0').repeat(32)
      expect(allocated(railOrder, { worksKeyHex }).locks).toHaveLength(444)
    }
  })

  it('a replacement key has the cuts of the key it replaces, found by the lock or by its blind code', () => {
    const { locks, keys } = allocated(harbourOrder)
    const lost = locks.find(({ name }) => name === 'A-017')
    const original = keys.find(({ name }) => name === 'A-017')
    const blindCodeOf = ({ order, line, number }: DeliveredLock) =>
      order === '26-041' && line === 'A' && number === 17 ? lost?.blindCode : undefined
    const again = allocated(keyOrder, { blindCodeOf, start: { HB50: '5000' } })
    expect(again.keys.map(({ cuts, copies }) => [cuts, copies])).toEqual([[original?.cuts, 2]])
    expect(again.consumed).toEqual([{ design: 'HB50', start: '5000', count: '0' }])
    const byBlindCode = structuredClone(keyOrder) as unknown as { lines: { keying: Record<string, unknown> }[] }
    if (byBlindCode.lines[0])
      byBlindCode.lines[0].keying = { kind: 'replacement', blindCode: lost?.blindCode, proofOfRight: 'seen' }
    expect(allocated(byBlindCode).keys[0]?.cuts).toEqual(original?.cuts)
  })

  it.each([
    ['a lock nobody knows', (keying: Record<string, unknown>) => keying],
    ['a mistyped blind code', () => ({ kind: 'replacement', blindCode: 'ABC1234', proofOfRight: 'seen' })],
  ])('%s is an issue at its line, without a word of any code', (_, change) => {
    const order = structuredClone(keyOrder) as unknown as { lines: { keying: Record<string, unknown> }[] }
    if (order.lines[0]) order.lines[0].keying = change(order.lines[0].keying)
    const result = allocateCodes({ order: checked(Order, order) as Order, designs, worksKeyHex: WORKS_KEY, start: {} })
    if (result.ok) throw new Error('an unknown lock was re-keyed')
    expect(result.issues).toMatchObject([{ path: 'lines[0]', code: 'not-found' }])
  })

  it('a space too small for the order says how far it came and what would loosen it', () => {
    const small = structuredClone(harbour) as unknown as { mechanism: Record<string, unknown> }
    small.mechanism['rules'] = { fixed: { 0: 1, 1: 2, 2: 3, 3: 4, 4: 5, 5: 0, 6: 1 } }
    const result = allocateCodes({
      order: checked(Order, harbourOrder) as Order,
      designs: [checked(Design, small) as Design],
      worksKeyHex: WORKS_KEY,
      start: {},
    })
    if (result.ok) throw new Error('36 codes served 364 keys')
    expect(result.issues[0]).toMatchObject({ path: 'lines[0]', code: 'out-of-reach' })
    expect(result.issues[0]?.message).toMatch(/36 of 300/)
  })
})
