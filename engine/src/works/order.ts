import { z } from 'zod'
import { choice, count, list, percent, text } from '../quantity.ts'

const identifier = (title: string) =>
  z
    .string()
    .regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,31}$/)
    .meta({ title, description: 'Letters, digits, point, dash and underscore, at most 32' })

const day = (title: string) => z.iso.date().meta({ title, description: 'Year-month-day, like 2027-01-18' })

const MAX_LOCKS = 100_000
const MAX_CHARTED = 20_000

/** Locks under one master key, on any number of levels: a group holds locks, further groups, or both. */
export interface MasterGroup {
  name: string
  masterKeys: number
  locks?: number | undefined
  groups?: MasterGroup[] | undefined
}
const masterGroup: z.ZodType<MasterGroup> = z
  .strictObject({
    name: text('Name of the master key', { max: 60 }),
    masterKeys: count('Copies of this master key', { min: 1, max: 100 }),
    locks: count('Locks directly under it', { min: 1, max: MAX_LOCKS }).optional(),
    get groups() {
      return z.array(masterGroup).min(1).max(50).meta({ title: 'Groups under it' }).optional()
    },
  })
  .meta({ title: 'Master group' })

export const KEYINGS = ['different', 'alike', 'master', 'chart', 'replacement'] as const

const keying = z
  .discriminatedUnion('kind', [
    z
      .strictObject({ kind: z.literal('different').meta({ title: 'Every lock its own key' }) })
      .meta({ title: 'Keyed different' }),
    z
      .strictObject({
        kind: z.literal('alike').meta({ title: 'Locks of a group share a key' }),
        groups: list(
          'Groups',
          z
            .strictObject({
              name: text('Name of the group', { max: 60 }),
              locks: count('Locks in the group', { min: 1, max: MAX_LOCKS }),
            })
            .meta({ title: 'Group' }),
          { max: 500 },
        ),
      })
      .meta({ title: 'Keyed alike' }),
    z
      .strictObject({ kind: z.literal('master').meta({ title: 'Own keys under master keys' }), master: masterGroup })
      .meta({ title: 'Master keyed' }),
    z
      .strictObject({
        kind: z.literal('chart').meta({ title: 'Keys and locks by name, each lock with the keys that open it' }),
        keys: list(
          'Keys',
          z
            .strictObject({
              name: text('Name of the key', { max: 60 }),
              copies: count('Copies of this key', { min: 1, max: 1000 }),
            })
            .meta({ title: 'Key' }),
          { max: MAX_CHARTED },
        ),
        locks: list(
          'Locks',
          z
            .strictObject({
              name: text('Name of the lock, or of its kind', { max: 60 }),
              quantity: count('Locks like it', { min: 1, max: MAX_LOCKS }).optional(),
              openedBy: list('Keys that open it', text('Name of the key', { max: 60 }), { max: MAX_CHARTED }),
            })
            .meta({ title: 'Lock' }),
          { max: MAX_CHARTED },
        ),
      })
      .meta({ title: 'Keys that cross' }),
    z
      .strictObject({
        kind: z.literal('replacement').meta({ title: 'Keys for a lock already delivered' }),
        blindCode: identifier('Blind code from the lock or its tag').optional(),
        lock: z
          .strictObject({
            order: identifier('Order that delivered the lock'),
            line: identifier('Line of that order'),
            number: count('Number of the lock in that line', { min: 1, max: MAX_LOCKS }),
          })
          .meta({ title: 'Lock' })
          .optional(),
        proofOfRight: text('How the customer proved the right to a key'),
      })
      .meta({ title: 'Replacement key' }),
  ])
  .meta({ title: 'Keying' })

const line = z
  .strictObject({
    id: identifier('Line'),
    design: text('Design number', { max: 16 }),
    quantity: count('Locks, or keys for a replacement', { min: 1, max: MAX_LOCKS }),
    keying,
    keysPerLock: count('Keys with each lock', { min: 0, max: 20 }),
    spareKeys: count('Spare keys for the line', { min: 0, max: 1000 }),
    stamp: choice('Stamped on locks and tags', ['blind', 'direct'], {
      blind: 'blind code: tells nothing of the cuts',
      direct: 'direct code: the cuts themselves, for whoever reads it',
    }).optional(),
    shackleHeat: text('Heat its shackles are cut from', {
      max: 40,
      help: 'One of the heats in stock; left open, every heat in stock in that bar is judged',
    }).optional(),
  })
  .meta({ title: 'Order line' })

/** What a customer wants: padlocks of one or more designs, how they are keyed, by when, and how the lots are judged. */
export const Order = z
  .strictObject({
    schema: z.literal('haspwright/order/1').meta({ title: 'File format' }),
    id: identifier('Order number'),
    customer: z
      .strictObject({ name: text('Customer', { max: 80 }), reference: text('Their reference', { max: 80 }).optional() })
      .meta({ title: 'Customer' }),
    received: day('Received on'),
    due: day('Due on'),
    lines: list('Lines', line, { max: 200 }),
    lots: z
      .strictObject({
        maxLocks: count('Most locks in a lot', { min: 1, max: MAX_LOCKS }),
        oneHeat: z.boolean().meta({ title: 'All bars of a form in a lot from one heat' }).optional(),
      })
      .meta({ title: 'Lots' }),
    release: z
      .strictObject({
        level: choice('Inspection level', ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III']),
        aqlPercent: percent(null, 'Acceptance quality limit', { min: 0.01, max: 1000 }),
        severity: choice('Severity', ['normal', 'tightened', 'reduced']),
        limitingQualityPercent: percent(null, 'Share of bad locks that must be caught', {
          min: 0.1,
          max: 99,
        }).optional(),
        consumerRiskPercent: percent(null, 'Highest chance of letting such a lot pass', {
          min: 0.1,
          max: 50,
        }).optional(),
        askedBy: text('Who asks for this inspection'),
      })
      .meta({ title: 'Release terms' }),
  })
  .meta({
    title: 'Order',
    description: 'An order for keyed padlocks: lines, keying, due date, lots and release terms.',
  })
  .superRefine((order, context) => {
    const complain = (path: PropertyKey[], message: string, allowed?: string) =>
      context.addIssue({
        code: 'custom',
        path,
        message,
        params: { code: 'contradiction', ...(allowed === undefined ? {} : { allowed }) },
      })
    if (order.due < order.received) complain(['due'], 'The order is due before it came in.', `from ${order.received}`)
    const seen = new Set<string>()
    order.lines.forEach(({ id, quantity, keying: keyed, keysPerLock, spareKeys }, i) => {
      if (seen.has(id)) complain(['lines', i, 'id'], `Line ${id} stands in the order twice.`)
      seen.add(id)
      if (keyed.kind === 'alike') {
        const sum = keyed.groups.reduce((total, group) => total + group.locks, 0)
        if (sum !== quantity)
          complain(
            ['lines', i, 'quantity'],
            `The groups of line ${id} hold ${sum} locks, the line says ${quantity}.`,
            `${sum}`,
          )
      }
      if (keyed.kind === 'master') {
        const sum = locksUnder(keyed.master)
        if (sum !== quantity)
          complain(
            ['lines', i, 'quantity'],
            `The groups of line ${id} hold ${sum} locks, the line says ${quantity}.`,
            `${sum}`,
          )
      }
      if (keyed.kind === 'chart') {
        const sum = chartedLocks(keyed)
        if (sum !== quantity)
          complain(
            ['lines', i, 'quantity'],
            `The chart of line ${id} holds ${sum} locks, the line says ${quantity}.`,
            `${sum}`,
          )
        if (keysPerLock + spareKeys > 0)
          complain(
            ['lines', i, keysPerLock > 0 ? 'keysPerLock' : 'spareKeys'],
            'Keys that cross belong to no one lock: say with each key of the chart how many copies are wanted.',
            '0',
          )
        complainOfChart(keyed, (path, message) => complain(['lines', i, 'keying', ...path], message))
      }
      if (keyed.kind === 'replacement' && (keyed.blindCode === undefined) === (keyed.lock === undefined))
        complain(
          ['lines', i, 'keying'],
          'Say which lock the key is for: its blind code, or the order, line and number it was delivered under.',
          'one of blindCode, lock',
        )
    })
  })
export type Order = z.output<typeof Order>
export type OrderLine = Order['lines'][number]
export type Keying = OrderLine['keying']

type Charted = Extract<Keying, { kind: 'chart' }>

/** Locks of a chart, those that are alike each counted. */
export function chartedLocks({ locks }: Charted): number {
  return locks.reduce((total, { quantity = 1 }) => total + quantity, 0)
}

/** Names that stand twice, keys that open nothing, locks opened by a key that is not there. */
function complainOfChart({ keys, locks }: Charted, complain: (path: PropertyKey[], message: string) => void): void {
  const known = new Set<string>()
  for (const [k, { name }] of keys.entries()) {
    if (known.has(name)) complain(['keys', k, 'name'], `Two keys are called ${name}.`)
    known.add(name)
  }
  const opening = new Set(locks.flatMap(({ openedBy }) => openedBy))
  for (const [k, { name }] of keys.entries())
    if (!opening.has(name)) complain(['keys', k, 'name'], `Key ${name} opens no lock.`)
  for (const [k, { name, openedBy }] of locks.entries())
    for (const [j, key] of openedBy.entries())
      if (!known.has(key))
        complain(['locks', k, 'openedBy', j], `Lock ${name} is opened by a key that is not among the keys.`)
}

/** Locks under a master key, all levels together. */
export function locksUnder({ locks = 0, groups = [] }: MasterGroup): number {
  return groups.reduce((total, group) => total + locksUnder(group), locks)
}

/** Locks a line makes: none for a replacement key. */
export function locksOf({ keying: { kind }, quantity }: OrderLine): number {
  return kind === 'replacement' ? 0 : quantity
}
