import {
  type CodeAllocation,
  type Design,
  type Issue,
  numbersTogether,
  type Order,
  readRuns,
  sizeOf,
} from '@haspwright/engine'
import { type CodeSpace, codeSpaceId, codeSpaceOf, linesFingerprint } from './code-space.ts'
import { type Allocate, type AllocationStart, type Outcome, PLANNING } from './register.ts'
import type { Reservation } from './reservation.ts'
import { knownCodes, numbersTaken, type SpaceState, setOf, setText } from './space-state.ts'

/** What an order asks of the ledger. */
export interface AskedCodes {
  readonly order: string
  /** The designs its lines name. */
  readonly designs: readonly Design[]
  /** Name of the code space, by design. */
  readonly spaces: Readonly<Record<string, string>>
  readonly fingerprint: string
}

export function askedCodes(order: Order, designs: readonly Design[]): AskedCodes {
  const used = designs.filter(({ id }) => order.lines.some(({ design }) => design === id))
  const spaces = Object.fromEntries(used.map((design) => [design.id, codeSpaceId(codeSpaceOf(design))]))
  return { order: order.id, designs: used, spaces, fingerprint: linesFingerprint(order.lines, spaces) }
}

/** The code spaces an order asks for, by name. */
export const spacesAsked = ({ designs }: AskedCodes): Map<string, CodeSpace> =>
  new Map(designs.map((design) => [codeSpaceId(codeSpaceOf(design)), codeSpaceOf(design)]))

/** Allocates the codes of an order that has none, from what each of its spaces has. */
export function allocateAnew(
  { designs, spaces }: AskedCodes,
  states: ReadonlyMap<string, SpaceState>,
  allocate: (start: Pick<AllocationStart, 'known'>) => ReturnType<Allocate>,
): Promise<Outcome<CodeAllocation>> {
  return allocate({
    known: Object.fromEntries(designs.map(({ id }) => [id, knownCodes(stateIn(states, spaces[id]))])),
  })
}

/** The numbers an order holds, as a set for each space. */
export function numbersHeld(
  lines: readonly Pick<Reservation['lines'][number], 'space' | 'numbers'>[],
): Map<string, string> {
  const held = new Map<string, string[]>()
  for (const { space, numbers } of lines) if (numbers !== '') held.set(space, [...(held.get(space) ?? []), numbers])
  return new Map([...held].map(([space, texts]) => [space, setText(setOf(...texts))]))
}

/** Why numbers are withdrawn when nobody said it: nobody saw what they became. */
export const CHANGED_UNSEEN = { who: PLANNING, reason: 'changed before its sheets were opened' }

export const reasonOfReplacing = (order: string, reason: string): string => `order ${order}: ${reason}`

export const withVoidSheets = (allocation: CodeAllocation): CodeAllocation => ({
  ...allocation,
  notices: [...allocation.notices, RESERVED_ANEW],
})

const RESERVED_ANEW =
  'New codes were reserved for this order, because its lines or its design changed. Sheets printed before are void: destroy them.'

export const askBeforeNewCodes = (order: string): Issue => ({
  path: 'newCodes',
  code: 'needs-confirmation',
  message: `Order ${order} has codes, and their sheets were opened; its lines or its design have changed since. New codes make keys and locks by the old sheets useless to it: the old codes are withdrawn for good. Say why to go on.`,
  allowed: 'a reason, and who gives it',
})

function stateIn(states: ReadonlyMap<string, SpaceState>, space = ''): SpaceState {
  const state = states.get(space)
  if (state === undefined) throw new Error('a design whose code space was not read')
  return state
}

/**
 * A space after an allocation.
 * @throws Error when the allocation takes a number that was taken: nothing is written then
 */
export function withGiven(
  state: SpaceState,
  {
    space,
    spaces,
    allocation,
  }: { space: string; spaces: Readonly<Record<string, string>>; allocation: CodeAllocation },
): SpaceState {
  const lines = allocation.given.filter(({ design }) => spaces[design] === space)
  const texts = lines.flatMap(({ numbers, passedOver }) => [numbers, passedOver])
  const used = setOf(...texts)
  const before = numbersTaken(state)
  if (used.size !== texts.reduce((sum, text) => sum + sizeOf(readRuns(text)), 0n))
    throw new Error('an allocation gives an issue number twice')
  if (numbersTogether(before, used).size !== before.size + used.size)
    throw new Error('an allocation gives an issue number that was taken')
  const given = lines.map(({ numbers }) => numbers)
  return {
    ...state,
    given: setText(setOf(state.given, ...given)),
    passedOver: setText(setOf(state.passedOver, ...lines.map(({ passedOver }) => passedOver))),
    mastered: [
      ...state.mastered,
      ...lines.flatMap(({ line, numbers, locks }) =>
        locks === undefined ? [] : [{ order: allocation.order, line, numbers, locks: locks.map((keys) => [...keys]) }],
      ),
    ],
  }
}
