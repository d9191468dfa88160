import type { Code } from '../../numeric/code-rules.ts'
import type { ChartBuild, Clash } from './build.ts'
import { type Chance, shuffled } from './chance.ts'
import { codeBox } from './draw.ts'

/** Codes that fit among which the one that needs the fewest new gates is taken. */
const CHOSEN_FROM = 6
/** Codes drawn for a key before others make way. */
const MOST_DRAWN = 60
/** What drawing a code costs, in words of bit rows. */
const EACH_DRAWN = 1000
/** Shares of the discs on which a drawn code keeps to values its locks have, or its relatives have. */
const KEPT_SHARES = [0, 0.3, 0.5, 0.7, 0.85]

/**
 * Places the keys that have no code yet where keys cross freely: greedily, those over most locks first, each with a code of a
 * few that needs the fewest new gates; when none is found the keys in the way give theirs up and are placed again later.
 * Codes are drawn on the gates that the key's locks have already, at different shares of the discs: keys that share a lock
 * must agree on many discs, or the lock's gates open to everybody.
 *
 * @param work budget, in words of bit rows
 * @returns a key that was not placed when the budget ended, or `undefined` when all are placed
 */
export function searchChart(build: ChartBuild, { chance, work }: { chance: Chance; work: number }): number | undefined {
  const { opens, keyNames } = build.order
  const end = build.work + work
  const reach = (key: number) => opens[key]?.length ?? 0
  const waiting = [...keyNames.keys()]
    .filter((key) => build.codes[key] === undefined)
    .sort((a, b) => reach(b) - reach(a))
  const evictions = new Map<number, number>()
  while (waiting.length > 0 && !build.isOver(end)) {
    const key = waiting.shift() ?? 0
    const { code, clashes } = bestCode(build, { key, chance })
    if (code !== undefined) {
      build.place(key, code)
      continue
    }
    const inTheWay = clashes
      .map((clash) => blamed(build, { key, clash, chance }))
      .filter((other) => other !== undefined)
    // The one over fewest locks, and of those like it the one that had to go least often: masters stay, and two keys do not push
    // each other out for ever.
    const weight = (other: number) => reach(other) * (1 + (evictions.get(other) ?? 0))
    const out = inTheWay.sort((a, b) => weight(a) - weight(b))[0]
    if (out !== undefined) {
      build.remove(out)
      evictions.set(out, (evictions.get(out) ?? 0) + 1)
      waiting.push(out)
    }
    waiting.splice(chance(Math.min(waiting.length, 3) + 1), 0, key)
    if (out === undefined && inTheWay.length === 0 && clashes.length === 0) return key
  }
  return waiting[0]
}

/** A code that clashes with nothing, of a few the one with fewest new gates; or what the drawn ones clashed with. */
function bestCode(
  build: ChartBuild,
  { key, chance }: { key: number; chance: Chance },
): { code?: Code; clashes: Clash[] } {
  const { shape } = build.demands
  const room = build.roomFor(key)
  const clashes: Clash[] = []
  let best: { code: Code; added: number } | undefined
  let found = 0
  for (let drawn = 0; drawn < MOST_DRAWN && found < CHOSEN_FROM; drawn++) {
    build.spend(EACH_DRAWN)
    const kept = KEPT_SHARES[drawn % KEPT_SHARES.length] ?? 0
    const code = codeBox(shape, narrowed(build, { key, room, kept, chance })).draw(chance)
    if (code === undefined) continue
    const clash = build.clash(key, code)
    if (clash !== undefined) {
      clashes.push(clash)
      continue
    }
    found++
    const added = newGates(build, { key, code })
    if (best === undefined || added < best.added) best = { code, added }
  }
  if (best !== undefined) return { code: best.code, clashes }
  if (clashes.length === 0 && room.some((mask) => mask !== 2 ** shape.values - 1)) {
    // Its locks leave it no code at all: one of their keys must go.
    const [lock] = shuffled(build.order.opens[key] ?? [], chance)
    if (lock !== undefined) clashes.push({ lock })
  }
  return { clashes }
}

/** Values the key may take, on a share of the discs held to gates that one of its locks or a relative has already. */
function narrowed(
  build: ChartBuild,
  { key, room, kept, chance }: { key: number; room: readonly number[]; kept: number; chance: Chance },
): number[] {
  const locks = build.order.opens[key] ?? []
  const lock = locks[chance(Math.max(1, locks.length))] ?? 0
  const relatives = (build.order.openers[lock] ?? []).filter((other) => build.codes[other] !== undefined)
  const relative = build.codes[relatives[chance(Math.max(1, relatives.length))] ?? -1]
  return room.map((mask, disc) => {
    if (relative === undefined || chance(1000) >= 1000 * kept) return mask
    const held = mask & (1 << (relative[disc] ?? 0))
    return held === 0 ? mask : held
  })
}

function newGates(build: ChartBuild, { key, code }: { key: number; code: Code }): number {
  let added = 0
  for (const lock of build.order.opens[key] ?? []) {
    const gates = build.gatesOf(lock)
    if (gates.every((bits) => bits === 0)) continue
    for (const [disc, value] of code.entries()) if (((gates[disc] ?? 0) & (1 << value)) === 0) added++
  }
  return added
}

/** A key that can make way: the one that would come in, or one of those that open the lock in question. */
function blamed(
  build: ChartBuild,
  { key, clash, chance }: { key: number; clash: Clash; chance: Chance },
): number | undefined {
  const movable = (other: number) => other !== key && !build.isMade(other) && build.codes[other] !== undefined
  if (clash.key !== undefined && movable(clash.key)) return clash.key
  const openers = clash.lock === undefined ? [] : (build.order.openers[clash.lock] ?? []).filter(movable)
  return openers[chance(Math.max(1, openers.length))]
}
