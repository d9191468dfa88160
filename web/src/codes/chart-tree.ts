import type { NamedOrder } from './chart-order-text.ts'

/** Keys that open the same locks, and the keys that open a part of them. */
export interface KeyNode {
  readonly keys: readonly string[]
  /** All locks that these keys open. */
  readonly locks: number
  /** Names of the locks that none of the keys below opens. */
  readonly ownLocks: readonly string[]
  readonly children: readonly KeyNode[]
}

/** The levels of an order. */
export interface KeyTree {
  readonly roots: readonly KeyNode[]
  /** Keys that belong under no one key: they open a part of the locks of several. */
  readonly crossing: readonly { readonly key: string; readonly locks: number }[]
  /** Levels of keys, one above the other. */
  readonly levels: number
}

interface Group {
  readonly keys: string[]
  readonly locks: readonly number[]
  parent: Group | undefined | 'crossing'
  readonly children: Group[]
  readonly own: number[]
}

/** The keys of an order as a tree: a key stands under the next larger one that opens all of its locks and more. */
export function keyTree({ keys, locks }: NamedOrder): KeyTree {
  const opens = new Map<string, number[]>(keys.map((key) => [key, []]))
  for (const [lock, { openedBy }] of locks.entries()) for (const key of openedBy) opens.get(key)?.push(lock)
  const groups = new Map<string, Group>()
  const groupOf = new Map<string, Group>()
  for (const key of keys) {
    const own = opens.get(key) ?? []
    const id = own.join()
    const group = groups.get(id) ?? { keys: [], locks: own, parent: undefined, children: [], own: [] }
    group.keys.push(key)
    groups.set(id, group)
    groupOf.set(key, group)
  }
  const seen = new Set<Group>()
  for (const { openedBy } of locks) {
    const chain = [...new Set(openedBy.flatMap((key) => groupOf.get(key) ?? []))].sort(
      (a, b) => b.locks.length - a.locks.length,
    )
    for (const [i, group] of chain.entries()) {
      const above = chain[i - 1]
      if (above !== undefined && above.locks.length === group.locks.length) group.parent = above.parent = 'crossing'
      else if (seen.has(group) && group.parent !== above) group.parent = 'crossing'
      else if (group.parent !== 'crossing') group.parent = above
      seen.add(group)
    }
  }
  const tidy = (group: Group): Group | undefined => {
    // Under a key that itself crosses there is no one place: such a key is a root of its own.
    return group.parent === 'crossing' || group.parent?.parent === 'crossing' ? undefined : group.parent
  }
  const all = [...groups.values()]
  const placed = all.filter(({ parent }) => parent !== 'crossing')
  for (const group of placed) tidy(group)?.children.push(group)
  for (const [lock, { openedBy }] of locks.entries())
    openedBy
      .flatMap((key) => groupOf.get(key) ?? [])
      .filter(({ parent }) => parent !== 'crossing')
      .sort((a, b) => a.locks.length - b.locks.length)[0]
      ?.own.push(lock)
  const roots = placed.filter((group) => tidy(group) === undefined).map((group) => nodeOf(group, locks))
  const crossing = all
    .filter(({ parent }) => parent === 'crossing')
    .flatMap((group) => group.keys.map((key) => ({ key, locks: group.locks.length })))
  return { roots, crossing, levels: Math.max(0, ...roots.map(depthOf)) }
}

function nodeOf({ keys, locks, own, children }: Group, all: NamedOrder['locks']): KeyNode {
  return {
    keys,
    locks: locks.length,
    ownLocks: own.map((lock) => all[lock]?.name ?? ''),
    children: children.map((child) => nodeOf(child, all)),
  }
}

const depthOf = ({ children }: KeyNode): number => 1 + Math.max(0, ...children.map(depthOf))

/** The order with keys and locks standing as in the tree: masters before what is under them, groups together. */
export function inTreeOrder(order: NamedOrder, { roots, crossing }: KeyTree): NamedOrder {
  const keys: string[] = []
  const lockNames: string[] = []
  const visit = (node: KeyNode) => {
    keys.push(...node.keys)
    lockNames.push(...node.ownLocks)
    for (const child of node.children) visit(child)
  }
  for (const root of roots) visit(root)
  const byName = new Map(order.locks.map((lock) => [lock.name, lock]))
  const first = lockNames.flatMap((name) => byName.get(name) ?? [])
  const taken = new Set(lockNames)
  return {
    keys: [...crossing.map(({ key }) => key), ...keys],
    locks: [...first, ...order.locks.filter(({ name }) => !taken.has(name))],
  }
}
