import type { ReadOrder } from './order.ts'

/**
 * A group of the order: the keys that open all of it, the locks that only they (and keys above) open, and the groups below.
 * Without keys it is a group only because a shared lock is opened by all of it.
 */
export interface ChartGroup {
  readonly keys: number[]
  readonly locks: number[]
  /** Locks that every key of the group opens, such as a common entrance. */
  readonly shared: number[]
  children: ChartGroup[]
}

/** Locks set aside at most as shared ones; an order with more is left to the search. */
const MOST_SHARED = 400
/** Passes over the order in search of shared locks. */
const MOST_PASSES = 40

/**
 * The levels of an order: sets of locks, one for each key, that are nested or disjoint are a forest; its trees are the
 * children of the group returned. Locks that stand across, opened by all keys of some group though these have locks apart,
 * are set aside and come back as `shared`.
 *
 * @returns `undefined` when the order has no such levels: keys cross freely
 */
export function hierarchyOf(order: ReadOrder): ChartGroup | undefined {
  const aside = new Set<number>()
  for (let pass = 0; pass < MOST_PASSES && aside.size <= MOST_SHARED; pass++) {
    const { root, across } = forestOf(order, aside)
    if (across.length === 0) return withShared({ root, order, aside })
    for (const lock of across) aside.add(lock)
  }
  return undefined
}

/** The forest without the locks set aside, and of each set that crosses another the lock opened by the most keys. */
function forestOf(
  { opens, openers, lockNames }: ReadOrder,
  aside: ReadonlySet<number>,
): { root: ChartGroup; across: number[] } {
  const sets = new Map<string, { locks: readonly number[]; keys: number[] }>()
  for (const [key, all] of opens.entries()) {
    const locks = aside.size === 0 ? all : all.filter((lock) => !aside.has(lock))
    const text = locks.length === 0 ? `key ${key}` : locks.join() // a key of shared locks alone stands for itself
    const known = sets.get(text)
    if (known === undefined) sets.set(text, { locks, keys: [key] })
    else known.keys.push(key)
  }
  const root = emptyGroup()
  const innermost = lockNames.map(() => root)
  const across: number[] = []
  for (const { locks, keys } of [...sets.values()].sort((a, b) => b.locks.length - a.locks.length)) {
    const parent = innermost[locks[0] ?? -1] ?? root
    if (locks.some((lock) => innermost[lock] !== parent)) {
      const reach = (lock: number) => openers[lock]?.length ?? 0
      across.push(locks.reduce((most, lock) => (reach(lock) > reach(most) ? lock : most)))
      continue
    }
    const group: ChartGroup = { ...emptyGroup(), keys }
    parent.children.push(group)
    for (const lock of locks) innermost[lock] = group
  }
  for (const [lock, group] of innermost.entries()) if (!aside.has(lock)) group.locks.push(lock)
  return { root, across }
}

/** Puts the locks set aside where all of their keys stand together, making a group of such as have none above. */
function withShared({
  root,
  order,
  aside,
}: {
  root: ChartGroup
  order: ReadOrder
  aside: ReadonlySet<number>
}): ChartGroup | undefined {
  const reach = (lock: number) => order.openers[lock]?.length ?? 0
  for (const lock of [...aside].sort((a, b) => reach(b) - reach(a)))
    if (!share(root, { lock, openers: new Set(order.openers[lock]) })) return undefined
  return root
}

function share(root: ChartGroup, { lock, openers }: { lock: number; openers: ReadonlySet<number> }): boolean {
  const found = widestCovered({ group: root, above: [], openers })
  const parent = found[0]?.above.at(-1)
  if (found.length === 0 || found.some(({ above }) => above.at(-1) !== parent)) return false
  const covered = found.map(({ group }) => group)
  // What opens the lock besides must be masters above.
  const masters = new Set((found[0]?.above ?? []).flatMap(({ keys }) => keys))
  const inside = new Set(covered.flatMap(keysIn))
  if ([...openers].some((key) => !inside.has(key) && !masters.has(key))) return false
  const [only] = covered
  if (covered.length === 1 && only !== undefined) {
    only.shared.push(lock)
    return true
  }
  if (parent === undefined) return false
  const group: ChartGroup = { ...emptyGroup(), shared: [lock], children: covered }
  parent.children = [...parent.children.filter((child) => !covered.includes(child)), group]
  return true
}

/** The groups all of whose keys open the lock and that are not in a larger such group, with the groups above each. */
function widestCovered({
  group,
  above,
  openers,
}: {
  group: ChartGroup
  above: readonly ChartGroup[]
  openers: ReadonlySet<number>
}): { group: ChartGroup; above: readonly ChartGroup[] }[] {
  if (above.length > 0 && keysIn(group).every((key) => openers.has(key))) return [{ group, above }]
  return group.children.flatMap((child) => widestCovered({ group: child, above: [...above, group], openers }))
}

/** All keys of a group and of those below. */
export function keysIn({ keys, children }: ChartGroup): number[] {
  return [...keys, ...children.flatMap(keysIn)]
}

/** All locks of a group and of those below, shared ones included. */
export function locksIn({ locks, shared, children }: ChartGroup): number[] {
  return [...locks, ...shared, ...children.flatMap(locksIn)]
}

const emptyGroup = (): ChartGroup => ({ keys: [], locks: [], shared: [], children: [] })
