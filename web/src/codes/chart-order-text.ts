import type { MasterGroup, OrderLine } from '@haspwright/engine'

/** Who shall open what, by names. */
export interface NamedOrder {
  readonly keys: readonly string[]
  readonly locks: readonly { readonly name: string; readonly openedBy: readonly string[] }[]
}

/** Something in the text that cannot be read. */
export interface LineTrouble {
  /** Counted from 1. */
  readonly line: number
  readonly message: string
}

const MOST_LOCKS = 20_000

/**
 * Reads an order of keys and locks: a lock on each line, a colon or tab, then the keys that open it, with commas, semicolons or tabs
 * between. `Boathouse: K1, Harbour master`. Empty lines count for nothing; keys stand in the order they are first named.
 */
export function readChartText(text: string): { order: NamedOrder; troubles: readonly LineTrouble[] } {
  const troubles: LineTrouble[] = []
  const keys = new Set<string>()
  const lockLines = new Map<string, number>()
  const locks: { name: string; openedBy: string[] }[] = []
  for (const [i, typed] of text.split(/\r?\n/).entries()) {
    if (typed.trim() === '') continue
    const line = i + 1
    const [, head = '', rest = ''] = /^([^:\t]*)[:\t]?(.*)$/s.exec(typed) ?? []
    const name = head.trim()
    const openedBy = [...new Set(rest.split(/[,;\t]/).map((key) => key.trim()))].filter((key) => key !== '')
    const before = lockLines.get(name)
    if (name === '') troubles.push({ line, message: 'The lock has no name.' })
    else if (before !== undefined) troubles.push({ line, message: `Lock ${name} stands in line ${before} already.` })
    else if (openedBy.length === 0)
      troubles.push({ line, message: `No key opens lock ${name}: write a colon and its keys after it.` })
    else {
      lockLines.set(name, line)
      for (const key of openedBy) keys.add(key)
      locks.push({ name, openedBy })
    }
    if (locks.length > MOST_LOCKS) {
      troubles.push({ line, message: `A chart holds at most ${MOST_LOCKS} locks.` })
      break
    }
  }
  return { order: { keys: [...keys], locks }, troubles }
}

/** The order of a line under masters, as text: every lock with its own key and the masters above it. */
export function chartTextOf({ id, quantity, keying }: OrderLine): string {
  if (keying.kind !== 'master') return ''
  const lines: string[] = []
  const digits = Math.max(3, String(quantity).length)
  const visit = (group: MasterGroup, above: readonly string[]) => {
    const masters = [group.name, ...above]
    for (let n = 0; n < (group.locks ?? 0); n++) {
      const name = `${id}-${String(lines.length + 1).padStart(digits, '0')}`
      lines.push(`${name}: ${[name, ...masters].join(', ')}`)
    }
    for (const inner of group.groups ?? []) visit(inner, masters)
  }
  visit(keying.master, [])
  return lines.join('\n')
}
