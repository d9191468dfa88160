import { chartedLocks, locksOf, locksUnder, type MasterGroup, type Order, type OrderLine } from './order.ts'
import type { DesignPlan, Lot, LotStep, OperationPlan } from './plan.ts'
import { KEY_STEPS } from './route.ts'

/** A lot before its steps are timed. */
export type LotShape = Omit<Lot, 'steps' | 'sampling'>

/**
 * Lines to lots: no lot larger than the order allows, no lot across two lines; locks keyed alike stay with their group, locks under
 * one master with their line, because they are tried against each other before sealing.
 */
export function shapeLots(order: Order): LotShape[] {
  return order.lines.flatMap((line) => {
    let next = 1
    const stamp = line.stamp === 'direct' ? '; stamped with direct codes, which show the cuts' : ''
    return portions(line, order.lots.maxLocks).map(({ keying, locks, keys }, i) => {
      const firstLock = next
      next += locks
      return {
        id: `${order.id}-${line.id}${i + 1}`,
        line: line.id,
        design: line.design,
        keying: `${keying}${stamp}`,
        locks,
        keys,
        firstLock,
        lastLock: firstLock + locks - 1,
      }
    })
  })
}

interface Portion {
  keying: string
  locks: number
  keys: number
}

function portions(line: OrderLine, maxLocks: number): Portion[] {
  const { keying, quantity, keysPerLock, spareKeys } = line
  switch (keying.kind) {
    case 'replacement':
      return [{ keying: 'replacement key', locks: 0, keys: quantity }]
    case 'different':
      return spread(quantity, maxLocks, { keying: 'keyed different', keysPerLock, extraKeys: spareKeys })
    case 'alike':
      return keying.groups.flatMap((group, i) =>
        spread(group.locks, maxLocks, {
          keying: `keyed alike, ${group.name}`,
          keysPerLock,
          extraKeys: share(spareKeys, keying.groups.length, i),
        }),
      )
    case 'master':
      return spread(locksUnder(keying.master), maxLocks, {
        keying: `under ${keying.master.name}`,
        keysPerLock,
        extraKeys: spareKeys + masterKeysUnder(keying.master),
      })
    case 'chart':
      return spread(chartedLocks(keying), maxLocks, {
        keying: 'keys that cross, by chart',
        keysPerLock: 0,
        extraKeys: keying.keys.reduce((total, { copies }) => total + copies, 0),
      })
  }
}

/** As equal as can be, in as few lots as the limit allows; extra keys travel with the first. */
function spread(
  locks: number,
  maxLocks: number,
  { keying, keysPerLock, extraKeys }: { keying: string; keysPerLock: number; extraKeys: number },
): Portion[] {
  const lots = Math.ceil(locks / maxLocks)
  return Array.from({ length: lots }, (_, i) => {
    const size = share(locks, lots, i)
    return { keying, locks: size, keys: size * keysPerLock + (i === 0 ? extraKeys : 0) }
  })
}

/** The i-th part when a whole number is divided as equally as whole numbers allow, the larger parts first. */
export function share(total: number, parts: number, i: number): number {
  return Math.floor(total / parts) + (i < total % parts ? 1 : 0)
}

/** Copies of all master keys of a group and the groups under it. */
export function masterKeysUnder({ masterKeys, groups = [] }: MasterGroup): number {
  return groups.reduce((total, group) => total + masterKeysUnder(group), masterKeys)
}

/** Times each step of the route for a lot. */
export function timeLot(lot: LotShape, { operations }: DesignPlan, sampleSize: number): LotStep[] {
  return operations
    .filter(({ operation }) => lot.locks > 0 || KEY_STEPS.has(operation))
    .map((operation) => timeStep(operation, lot, sampleSize))
}

function timeStep({ operation, time, setupMinutes }: OperationPlan, lot: LotShape, sampleSize: number): LotStep {
  if (time === null) return { operation, loads: null, minutes: null }
  const pieces = { locks: lot.locks, keys: lot.keys, samples: sampleSize }[time.of]
  if (time.per === 'piece') return { operation, loads: null, minutes: setupMinutes + pieces * time.minutes }
  const loads = Math.ceil(pieces / (time.piecesPerLoad ?? pieces))
  if (time.within !== undefined) return { operation, loads, minutes: setupMinutes }
  const first = loads === 0 ? 0 : (time.firstMinutes ?? time.minutes)
  return { operation, loads, minutes: setupMinutes + first + Math.max(0, loads - 1) * time.minutes }
}

/** Locks of a design in the whole order. */
export function locksOfDesign(order: Order, design: string): number {
  return order.lines.filter((line) => line.design === design).reduce((total, line) => total + locksOf(line), 0)
}
