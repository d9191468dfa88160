import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import railyard from '../../../demo/designs/ry40.json'
import harbourOrder from '../../../demo/orders/26-041-harbour.json'
import railOrder from '../../../demo/orders/26-044-rail-yard.json'
import keyOrder from '../../../demo/orders/26-047-replacement-key.json'
import { numbersIn, readRuns } from '../codes/number-runs.ts'
import { read } from '../reading.ts'
import { type AllocationInput, allocateCodes, type DeliveredLock } from './allocate-codes.ts'
import { Design } from './design.ts'
import type { KnownCodes } from './known-codes.ts'
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
    worksKeyHex = WORKS_KEY,
    ...rest
  }: { worksKeyHex?: string } & Pick<AllocationInput, 'known' | 'given' | 'blindCodeOf'> = {},
): CodeAllocation {
  const order = checked(Order, file) as Order
  const result = allocateCodes({
    order,
    designs,
    worksKeyHex,
    ...rest,
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

  it('is the same again, another for another key, and never meets what a later order gets', () => {
    expect(allocated(harbourOrder)).toEqual(allocation)
    const otherKey = allocated(harbourOrder, { worksKeyHex: WORKS_KEY.replace('00', 'ff') })
    expect(otherKey.keys[0]?.cuts).not.toEqual(allocation.keys[0]?.cuts)
    const known = { HB50: knownFrom(allocation) }
    const later = allocated({ ...harbourOrder, id: 'later' }, { known })
    const given = new Set(allocation.keys.map(({ cuts }) => cuts.join()))
    expect(later.keys.some(({ cuts }) => given.has(cuts.join()))).toBe(false)
    let foreign = 0
    for (const { gates } of allocation.locks) for (const { cuts } of later.keys) if (opens(cuts, gates)) foreign++
    for (const { gates } of later.locks) for (const { cuts } of allocation.keys) if (opens(cuts, gates)) foreign++
    expect(foreign).toBe(0)
  })

  it('comes again from its numbers alone, whatever has been given out since', () => {
    const since = { HB50: { out: '0-9999', kept: '10000-20000', mastered: [] } }
    expect(allocated(harbourOrder, { given: allocation.given, known: since })).toEqual({
      ...allocation,
      given: allocation.given.map((line) => ({ ...line, passedOver: '' })),
    })
  })

  it('tells every number it used: lines in turn from 0, the chart scattered over the space, none twice', () => {
    const [different, alike, chart] = allocation.given
    expect([different?.numbers, alike?.numbers]).toEqual(['0-299', '300-302'])
    const charted = [...numbersIn(readRuns(chart?.numbers ?? ''))]
    expect(new Set(charted).size).toBe(61)
    expect(charted.every((number) => number > 302n)).toBe(true)
    expect(chart?.locks).toHaveLength(60)
    expect(chart?.locks?.[0]).toEqual([1, 0])
  })

  it('passes over a number whose key would open a mastered lock of an earlier order, and says so', () => {
    // Earlier locks that the first keys of the stream open: those with the very gates of keys 0 and 5.
    const mastered = [{ order: 'old', line: 'A', numbers: '0,5,9000', locks: [[0, 2], [1]] }]
    const [line] = allocated(harbourOrder, { known: { HB50: { out: '', kept: '', mastered } } }).given
    expect(line?.passedOver.split(',')).toEqual(expect.arrayContaining(['0', '5']))
    const both = [...numbersIn(readRuns(line?.numbers ?? '')), ...numbersIn(readRuns(line?.passedOver ?? ''))]
    expect(both.sort((a, b) => Number(a - b))).toEqual(both.map((_, i) => BigInt(i)))
  })

  it('leaves reserved and withdrawn numbers where they are', () => {
    const known = { HB50: { out: '3', kept: '10-19', mastered: [] } }
    expect(allocated(harbourOrder, { known }).given[0]?.numbers).toBe('0-2,4-9,20-310')
  })
})

/** What the register tells of an order's numbers to those that come after. */
function knownFrom({ order, given }: CodeAllocation): KnownCodes {
  return {
    out: given.map(({ numbers }) => numbers).join(),
    kept: '',
    mastered: given.flatMap(({ line, numbers, locks }) =>
      locks === undefined ? [] : [{ order, line, numbers, locks }],
    ),
  }
}

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
    const again = allocated(keyOrder, { blindCodeOf })
    expect(again.keys.map(({ cuts, copies }) => [cuts, copies])).toEqual([[original?.cuts, 2]])
    expect(again.given).toEqual([])
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
    const result = allocateCodes({ order: checked(Order, order) as Order, designs, worksKeyHex: WORKS_KEY })
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
    })
    if (result.ok) throw new Error('36 codes served 364 keys')
    expect(result.issues[0]).toMatchObject({ path: 'lines[0]', code: 'out-of-reach' })
    expect(result.issues[0]?.message).toMatch(/36 of 300/)
  })

  it('a chart of crossing keys: each opens the locks it is listed for, alike locks included, and no other', () => {
    const { keys, locks } = allocated(crossing())
    expect(locks.map(({ name, openedBy }) => [name, openedBy])).toEqual([
      ['A-001', ['A Crew', 'A Master']],
      ['A-002', ['A Crew', 'A Master']],
      ['A-003', ['A Crew', 'A Stores', 'A Master']],
      ['A-004', ['A Stores']],
    ])
    for (const { gates, openedBy } of locks)
      for (const { name, cuts } of keys) expect(opens(cuts, gates)).toBe(openedBy.includes(name))
    expect(keys.map(({ name, copies, master }) => [name, copies, master])).toEqual([
      ['A Crew', 6, true],
      ['A Stores', 2, true],
      ['A Master', 1, true],
    ])
  })

  it('a chart no mechanism can do is an issue at its line that names the tightest locks and what would loosen it', () => {
    const order = crossing(Array.from({ length: 300 }, (_, i) => `K${i}`))
    const tight = structuredClone(harbour) as unknown as { mechanism: Record<string, unknown> }
    Object.assign(tight.mechanism, { maxGatesPerDisc: 1 })
    const result = allocateCodes({
      order: checked(Order, order) as Order,
      designs: [checked(Design, tight) as Design],
      worksKeyHex: WORKS_KEY,
    })
    if (result.ok) throw new Error('one gate on each disc let 300 keys in')
    expect(result.issues[0]).toMatchObject({ path: 'lines[0]', code: 'out-of-reach' })
    expect(result.issues[0]?.message).toMatch(/tightest are the keys of lock A-001.*loosen it: /)
  })

  it('direct codes only where the line asks: the cuts in order with a check digit, and a notice that says so', () => {
    const order = { ...harbourOrder, lines: harbourOrder.lines.slice(0, 2) } as { lines: Record<string, unknown>[] }
    order.lines[0] = { ...order.lines[0], stamp: 'direct' }
    const { keys, locks, notices } = allocated(order)
    for (const { name, cuts, directCode: direct } of keys)
      expect(direct?.slice(0, -1)).toBe(name.startsWith('A-') ? cuts.join('') : undefined)
    expect(locks.find(({ name }) => name === 'A-001')?.directCode).toBe(keys[0]?.directCode)
    expect(notices).toEqual([expect.stringMatching(/^Line A is stamped with direct codes: .* knows the cuts/)])
    expect(shapeLots(checked(Order, order) as Order).map(({ keying }) => keying.includes('show the cuts'))).toContain(
      true,
    )
  })

  it.each([
    [{ openedBy: ['Crew', 'Nobody'] }, /not among the keys/],
    [{ openedBy: ['Crew'] }, /Stores opens no lock/],
  ])('a chart that contradicts itself is refused with the order: %j', (change, words) => {
    const order = crossing()
    for (const lock of order.lines[0]?.keying.locks ?? []) Object.assign(lock, change)
    const reading = read(Order, order)
    expect(reading.ok ? [] : reading.issues.map(({ message }) => message)).toContainEqual(expect.stringMatching(words))
  })
})

/** Two crews and a master over four locks, two of them alike; or one lock for every key of a list. */
function crossing(many?: string[]) {
  const keys = (many ?? ['Crew', 'Stores', 'Master']).map((name) => ({
    name,
    copies: { Crew: 6, Stores: 2 }[name] ?? 1,
  }))
  const locks: { name: string; quantity?: number; openedBy: string[] }[] =
    many === undefined
      ? [
          { name: 'Gate', quantity: 2, openedBy: ['Crew', 'Master'] },
          { name: 'Shed', openedBy: ['Crew', 'Stores', 'Master'] },
          { name: 'Cabinet', openedBy: ['Stores'] },
        ]
      : [{ name: 'Gate', openedBy: many }]
  const quantity = locks.reduce((sum, lock) => sum + (lock.quantity ?? 1), 0)
  const line = {
    id: 'A',
    design: 'HB50',
    quantity,
    keysPerLock: 0,
    spareKeys: 0,
    keying: { kind: 'chart', keys, locks },
  }
  return { ...harbourOrder, id: 'crossing', lines: [line] }
}
