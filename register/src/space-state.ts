import {
  type IssueNumbers,
  issueNumbers,
  type KnownCodes,
  numbersInBoth,
  numbersTogether,
  numbersWithout,
  readRuns,
  runText,
} from '@haspwright/engine'
import { z } from 'zod'
import type { GivenOut } from './register.ts'
import { runs, wholeNumber } from './reservation.ts'

const act = { numbers: runs, reason: z.string(), who: z.string(), at: z.string() }

/** What has become of the issue numbers of a code space. Numbers alone, no code. */
const Current = z.strictObject({
  schema: z.literal('haspwright/code-space/2'),
  space: z.unknown(),
  /** To orders. */
  given: runs,
  /** Met when an order was given codes, and never to be given to anybody. */
  passedOver: runs,
  withdrawn: z.array(z.strictObject(act)),
  reserved: z.array(z.strictObject({ id: z.string(), ...act })),
  imported: z.array(z.strictObject({ id: z.string(), ...act })),
  /** Locks of orders that more than one key opens: each as the places of its keys among the numbers. */
  mastered: z.array(
    z.strictObject({ order: z.string(), line: z.string(), numbers: runs, locks: z.array(z.array(z.int().min(0))) }),
  ),
})
export type SpaceState = z.output<typeof Current>

/** As it was written while numbers were given out in one row. */
const Earlier = z
  .strictObject({ schema: z.literal('haspwright/code-space/1'), space: z.unknown(), next: wholeNumber })
  .transform(({ space, next }) => ({ ...emptySpace(space), given: next === '0' ? '' : `0-${BigInt(next) - 1n}` }))

export const SpaceFile: z.ZodType<SpaceState> = z.union([Current, Earlier])

export const emptySpace = (space: unknown): SpaceState => ({
  schema: 'haspwright/code-space/2',
  space,
  given: '',
  passedOver: '',
  withdrawn: [],
  reserved: [],
  imported: [],
  mastered: [],
})

export const setOf = (...texts: readonly string[]): IssueNumbers => issueNumbers(...texts.flatMap(readRuns))
const setOfActs = (acts: readonly { numbers: string }[]) => setOf(...acts.map(({ numbers }) => numbers))

/** A set as text, its runs rising. */
export const setText = ({ ranges }: IssueNumbers): string => runText(ranges)

/** Numbers of keys that are out in the world. */
export function numbersOut({ given, withdrawn, imported }: SpaceState): IssueNumbers {
  return numbersTogether(setOf(given), setOfActs(withdrawn), setOfActs(imported))
}

/** Numbers that may not be given, out or not. */
export function numbersTaken(state: SpaceState): IssueNumbers {
  return numbersTogether(numbersOut(state), setOf(state.passedOver), setOfActs(state.reserved))
}

/** What a new order must know of the space. */
export function knownCodes(state: SpaceState): KnownCodes {
  return {
    out: setText(numbersOut(state)),
    kept: setText(numbersTogether(setOf(state.passedOver), setOfActs(state.reserved))),
    mastered: state.mastered,
  }
}

/** Each number counted once: a withdrawn one as withdrawn whatever it was before, then imported, given, passed over, reserved. */
export function countsOf(state: SpaceState): Omit<GivenOut, 'space' | 'orders'> {
  const withdrawn = setOfActs(state.withdrawn)
  const imported = numbersWithout(setOfActs(state.imported), withdrawn)
  const gone = numbersTogether(withdrawn, imported)
  const given = numbersWithout(setOf(state.given), gone)
  const out = numbersTogether(gone, given)
  const passedOver = numbersWithout(setOf(state.passedOver), out)
  const reserved = numbersWithout(setOfActs(state.reserved), numbersTogether(out, passedOver))
  const count = (acts: SpaceState['withdrawn']) =>
    acts.map(({ numbers, reason, who, at }) => ({ numbers, count: `${setOf(numbers).size}`, reason, who, at }))
  return {
    numbers: `${given.size}`,
    withdrawn: `${withdrawn.size}`,
    imported: `${imported.size}`,
    passedOver: `${passedOver.size}`,
    reserved: `${reserved.size}`,
    withdrawals: count(state.withdrawn),
    reservations: state.reserved.map(({ id, numbers, reason, who, at }) => ({
      id,
      numbers,
      count: `${numbersInBoth(setOf(numbers), reserved).size}`,
      reason,
      who,
      at,
    })),
    imports: state.imported.map(({ id, numbers, reason, who, at }) => ({
      id,
      count: `${setOf(numbers).size}`,
      reason,
      who,
      at,
    })),
  }
}
