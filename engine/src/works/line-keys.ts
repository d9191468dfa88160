import type { MasterGroup, OrderLine } from './order.ts'

/** Keys and locks of an order line by name: who opens what. Every kind of keying comes down to it. */
export interface LineKeys {
  readonly keys: readonly string[]
  readonly locks: readonly { readonly name: string; readonly openedBy: readonly string[] }[]
  /** Copies of those keys whose number is not settled by the locks they open: masters. */
  readonly masterCopies: ReadonlyMap<string, number>
}

/** The keys and locks of a line; a replacement makes no lock and its key is an old one. */
export function lineKeys(line: OrderLine): LineKeys {
  const { keying } = line
  switch (keying.kind) {
    case 'different': {
      const names = Array.from({ length: line.quantity }, (_, i) => lockName(line, i + 1))
      return { keys: names, locks: names.map((name) => ({ name, openedBy: [name] })), masterCopies: new Map() }
    }
    case 'alike': {
      const owners = keying.groups.flatMap(({ name, locks }) => new Array<string>(locks).fill(`${line.id} ${name}`))
      return {
        keys: keying.groups.map(({ name }) => `${line.id} ${name}`),
        locks: owners.map((owner, i) => ({ name: lockName(line, i + 1), openedBy: [owner] })),
        masterCopies: new Map(),
      }
    }
    case 'master':
      return mastered(line, keying.master)
    case 'chart': {
      const opens = (name: string) => `${line.id} ${name}`
      const owners = keying.locks.flatMap(({ quantity = 1, openedBy }) =>
        new Array<readonly string[]>(quantity).fill(openedBy.map(opens)),
      )
      return {
        keys: keying.keys.map(({ name }) => opens(name)),
        locks: owners.map((openedBy, i) => ({ name: lockName(line, i + 1), openedBy })),
        masterCopies: new Map(keying.keys.map(({ name, copies }) => [opens(name), copies])),
      }
    }
    case 'replacement':
      return { keys: [], locks: [], masterCopies: new Map() }
  }
}

/** Whether any lock of the line is opened by more than one key: its keys then cannot just be taken as they come. */
export function needsChart({ keying }: OrderLine): boolean {
  return keying.kind === 'master' || keying.kind === 'chart'
}

/** Every lock under a master with its own key and the masters above it, in the order of the tree; masters first among the keys. */
function mastered(line: OrderLine, master: MasterGroup): LineKeys {
  const masterCopies = new Map<string, number>()
  const locks: { name: string; openedBy: string[] }[] = []
  const visit = (group: MasterGroup, above: readonly string[]) => {
    const masters = [...above, `${line.id} ${group.name}`]
    masterCopies.set(`${line.id} ${group.name}`, group.masterKeys)
    for (let n = 0; n < (group.locks ?? 0); n++) {
      const name = lockName(line, locks.length + 1)
      locks.push({ name, openedBy: [name, ...masters] })
    }
    for (const inner of group.groups ?? []) visit(inner, masters)
  }
  visit(master, [])
  return { keys: [...masterCopies.keys(), ...locks.map(({ name }) => name)], locks, masterCopies }
}

/** `A-017`. */
function lockName({ id, quantity }: OrderLine, number: number): string {
  return `${id}-${String(number).padStart(Math.max(3, String(quantity).length), '0')}`
}
