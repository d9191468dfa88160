import type { Gates, PlacedKey } from './code-pool.ts'

/** Wrong keys named for each lock. */
const WRONG_KEYS = 2
/** In a larger lot, only so many of its keys are looked at: those of a bench tray at hand. */
const KEYS_AT_HAND = 1000

interface LockInLot {
  readonly name: string
  readonly lot: string
  readonly openedBy: readonly string[]
  readonly gates: Gates
}

/**
 * For each lock the keys that are most likely to open it although they must not: those of its lot, which lie on the same bench, and
 * where the lot has none, as with locks keyed alike, others of the order. They are tried before the lock is sealed.
 *
 * By the opening model a key passes when one turn suits all discs, so what counts first is how far the differences lie apart, then
 * on how many discs there is one, then how many steps in all.
 */
export function wrongKeysToTry(locks: readonly LockInLot[], keys: readonly PlacedKey[]): string[][] {
  const byName = new Map(keys.map((key) => [key.name, key]))
  const namesOfLot = new Map<string, Set<string>>()
  for (const { lot, openedBy } of locks) {
    const names = namesOfLot.get(lot) ?? new Set<string>()
    for (const name of openedBy) if (names.size < KEYS_AT_HAND) names.add(name)
    namesOfLot.set(lot, names)
  }
  const nearest = (from: Iterable<PlacedKey>, { openedBy, gates }: LockInLot) =>
    [...from]
      .filter(({ name }) => !openedBy.includes(name))
      .map(({ name, code }) => ({ name, ...distance(code, gates) }))
      .sort((a, b) => a.spread - b.spread || a.missed - b.missed || a.steps - b.steps || (a.name < b.name ? -1 : 1))
      .slice(0, WRONG_KEYS)
      .map(({ name }) => name)
  const others = keys.slice(0, KEYS_AT_HAND)
  return locks.map((lock) => {
    const own = [...(namesOfLot.get(lock.lot) ?? [])].flatMap((name) => byName.get(name) ?? [])
    const found = nearest(own, lock)
    return found.length > 0 ? found : nearest(others, lock)
  })
}

/** Signed steps from the nearest gate of each disc, drawn together: the span they cover, the discs that miss, the steps in all. */
function distance(code: readonly number[], gates: Gates): { spread: number; missed: number; steps: number } {
  const off = code.map((value, disc) =>
    (gates[disc] ?? [])
      .map((gate) => gate - value)
      .reduce((best, step) => (Math.abs(step) < Math.abs(best) ? step : best), 99),
  )
  return {
    spread: Math.max(...off) - Math.min(...off),
    missed: off.filter((step) => step !== 0).length,
    steps: off.reduce((sum, step) => sum + Math.abs(step), 0),
  }
}
