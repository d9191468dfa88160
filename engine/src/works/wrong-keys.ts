import type { Gates, PlacedKey } from '../codes/key-group.ts'

/** Wrong keys named for each lock. */
const WRONG_KEYS = 2
/** In a larger lot, only so many of its keys are looked at: those of a bench tray at hand. */
const KEYS_AT_HAND = 1000

interface PlacedLock {
  readonly name: string
  readonly lot: string
  readonly openedBy: readonly string[]
  readonly gates: Gates
}

/**
 * For each lock the keys of its lot that come nearest to opening it without being allowed to: fewest discs missed, then fewest
 * steps in all. They are tried before the lock is sealed. Only keys of the lot are searched: they lie on the same bench.
 */
export function wrongKeysToTry(locks: readonly PlacedLock[], keys: readonly PlacedKey[]): string[][] {
  const byName = new Map(keys.map((key) => [key.name, key]))
  const namesOfLot = new Map<string, Set<string>>()
  for (const { lot, openedBy } of locks) {
    const names = namesOfLot.get(lot) ?? new Set<string>()
    for (const name of openedBy) if (names.size < KEYS_AT_HAND) names.add(name)
    namesOfLot.set(lot, names)
  }
  const keysOfLot = new Map(
    [...namesOfLot].map(([lot, names]) => [lot, [...names].flatMap((name) => byName.get(name) ?? [])]),
  )
  return locks.map(({ lot, openedBy, gates }) =>
    (keysOfLot.get(lot) ?? [])
      .filter(({ name }) => !openedBy.includes(name))
      .map(({ name, code }) => ({ name, ...distance(code, gates) }))
      .sort((a, b) => a.missed - b.missed || a.steps - b.steps || (a.name < b.name ? -1 : 1))
      .slice(0, WRONG_KEYS)
      .map(({ name }) => name),
  )
}

function distance(code: readonly number[], gates: Gates): { missed: number; steps: number } {
  let missed = 0
  let steps = 0
  code.forEach((value, disc) => {
    const off = Math.min(...(gates[disc] ?? []).map((gate) => Math.abs(gate - value)))
    if (off > 0) missed++
    steps += off
  })
  return { missed, steps }
}
