import type { Issue } from '../../issue.ts'
import type { CodeShape } from '../../numeric/code-rules.ts'
import type { ChartDemands } from './build.ts'
import { discsNeeded } from './capacity.ts'
import { type ChartGroup, locksIn } from './hierarchy.ts'
import type { ReadOrder } from './order.ts'
import { mostAtDistance, mostUnderMaster } from './words.ts'

/** An order, what it must keep to, its levels where it has any, and the codes there are. */
export interface ChartTask {
  readonly order: ReadOrder
  readonly demands: ChartDemands
  readonly levels: ChartGroup | undefined
  /** Codes that keep the rules; `undefined` where they are out of reach to count. */
  readonly usable: bigint | undefined
}

/**
 * Why no chart can exist, as far as counting proves it; nothing when it does not.
 *
 * New keys that do not open the same locks differ in the discs asked for, so they are no more than a code of that distance
 * holds. Keys apart under one master also leave its value: on any discs but one less than that distance they are no more than
 * {@link mostUnderMaster}.
 */
export function impossible(task: ChartTask): Issue[] {
  const { order, demands, levels, usable } = task
  const { shape, minDifferingDiscs: distance, maxGatesPerDisc: gates } = demands
  const length = order.madeCodes.length > 0 ? shape.discs : freeDiscs(shape) // old codes may leave the rules
  const newKeys = [...order.keyNames.keys()].slice(order.madeCodes.length)
  const sets = new Set(newKeys.map((key) => (order.opens[key] ?? []).join())).size
  const because = (why: string, tightest: string): Issue[] => [
    outOfReach(`No chart exists: ${why}.`, { task, tightest }),
  ]
  const crowded = order.openers.findIndex(
    (openers, lock) => lock >= order.madeGates.length && openers.length > Math.min(gates, shape.values) ** length,
  )
  if (crowded >= 0)
    return because(
      `${order.openers[crowded]?.length} different keys have more codes than ${gates} gates on a disc can let in`,
      lockText(order, crowded),
    )
  if (distance > length && someoneKeptOut(order))
    return because(`keys cannot differ in ${distance} discs where only ${length} are free`, groupText(order))
  if (usable !== undefined && BigInt(newKeys.length) > usable)
    return because(`${newKeys.length} keys are asked for and ${usable} codes keep the rules`, groupText(order))
  const most = mostAtDistance({ length, values: shape.values, distance })
  if (sets > most)
    return because(
      `at most ${most} codes differ from one another in ${distance} discs, ${sets} are needed`,
      groupText(order),
    )
  const underMaster = mostUnderMaster({ length: length - distance + 1, values: shape.values }).words
  const crowdedGroup = levels === undefined ? undefined : widestOver(levels, { most: underMaster, order })
  return crowdedGroup === undefined
    ? []
    : because(
        `at most ${underMaster} keys can stand apart under one master, ${newLeaves(crowdedGroup, order)} are needed`,
        groupText(order, crowdedGroup),
      )
}

/** The issue that says which locks are the tightest and what would loosen it. */
export function outOfReach(what: string, { task, tightest }: { task: ChartTask; tightest: string }): Issue {
  return {
    path: 'locks',
    code: 'out-of-reach',
    message: `${what} The tightest are ${tightest}. What would loosen it: ${loosening(task).join(', ')}.`,
  }
}

/** What would help, first what was reckoned to be enough. */
function loosening({ order, demands, levels }: ChartTask): string[] {
  const { shape, minDifferingDiscs: distance, maxGatesPerDisc: gates } = demands
  const fixed = shape.discs - freeDiscs(shape)
  const needs = (values: number, least = distance) =>
    levels === undefined ? Number.POSITIVE_INFINITY : discsNeeded(levels, { values, distance: least, gates }) + fixed
  const discs = needs(shape.values)
  const values = Array.from({ length: 12 - shape.values }, (_, i) => shape.values + 1 + i).find(
    (more) => needs(more) <= shape.discs,
  )
  const depth = levels === undefined ? 0 : depthOf(levels)
  const crowded = order.openers.some((openers) => openers.length > gates)
  return [
    Number.isFinite(discs) && discs > shape.discs && discs <= 24
      ? `more discs (by levels it needs ${discs})`
      : 'more discs',
    values === undefined ? 'more values' : `more values (by levels ${values} are enough)`,
    ...(distance > 1 ? ['fewer discs that a foreign key must miss'] : []),
    ...(gates === 1 || crowded ? ['more gates on a disc'] : []),
    ...(depth > 2 ? ['a level less'] : []),
    ...(Object.values(shape.rules).some((rule) => rule !== undefined) ? ['looser rules for codes'] : []),
    'smaller groups under one master',
  ]
}

/** `the 40 locks under key M (L 1 to L 40)`; without a group all locks. */
export function groupText({ keyNames, lockNames, openers }: ReadOrder, group?: ChartGroup): string {
  if (group === undefined || (group.keys.length === 0 && group.shared.length === 0)) {
    return `all ${lockNames.length} locks`
  }
  const locks = locksIn(group)
  const range = ` (${lockNames[locks[0] ?? 0]} to ${lockNames[locks.at(-1) ?? 0]})`
  const [key] = group.keys
  const head = key === undefined ? `with ${lockNames[group.shared[0] ?? 0]} in common` : `under key ${keyNames[key]}`
  return locks.length === 1
    ? lockText({ lockNames, openers }, locks[0] ?? 0)
    : `the ${locks.length} locks ${head}${range}`
}

/** `lock L 1, opened by 3 keys`. */
export function lockText({ lockNames, openers }: Pick<ReadOrder, 'lockNames' | 'openers'>, lock: number): string {
  return `the keys of lock ${lockNames[lock]}, ${openers[lock]?.length ?? 0} in all`
}

/** Whether any key may not open some lock, one of the two being new. */
function someoneKeptOut({ openers, keyNames, madeCodes, madeGates }: ReadOrder): boolean {
  return openers.some((keys, lock) => {
    const made = lock < madeGates.length ? madeCodes.length : 0
    return keys.filter((key) => key >= made).length < keyNames.length - made
  })
}

const freeDiscs = ({ discs, rules: { fixed } }: CodeShape) => discs - Object.keys(fixed ?? {}).length

const depthOf = ({ children }: ChartGroup): number => 1 + Math.max(0, ...children.map(depthOf))

/** The group under a key with more new groups apart than there can be. */
function widestOver(group: ChartGroup, { most, order }: { most: number; order: ReadOrder }): ChartGroup | undefined {
  for (const child of group.children) {
    const found = widestOver(child, { most, order })
    if (found !== undefined) return found
  }
  return group.keys.length > 0 && newLeaves(group, order) > most ? group : undefined
}

/** New keys below a group that stand apart, each with a lock of its own. */
function newLeaves(group: ChartGroup, order: ReadOrder): number {
  if (group.children.length > 0) return group.children.reduce((sum, child) => sum + newLeaves(child, order), 0)
  const isNew = group.keys.some((key) => key >= order.madeCodes.length)
  return isNew && group.locks.length > 0 ? 1 : 0
}
