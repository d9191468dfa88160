import {
  type AllocatedKey,
  type AllocatedLock,
  type CodeAllocation,
  keyCodesAreSecret,
  type Lot,
  sealingIsFinal,
  type WorksPlan,
} from '@haspwright/engine'
import { fileName, type Paper } from '../paper.ts'
import type { Typesetter } from '../typeset/typesetter.ts'
import { designPlanOf, titleCells } from './context.ts'
import { keySheetMarkup, stackSheetMarkup } from './secret-markup.ts'

/** Lots that the allocation knows, in the order of the plan, then any the plan does not know. */
export function lotsOf(plan: WorksPlan, { keys, locks }: CodeAllocation): string[] {
  const named = new Set([...keys, ...locks].map(({ lot }) => lot))
  const planned = plan.lots.map(({ id }) => id).filter((id) => named.has(id))
  return [...planned, ...[...named].filter((id) => !planned.includes(id))]
}

/** The key cutter's sheet of a lot: which cuts, how many copies. */
export function keySheet(plan: WorksPlan, lot: string, keys: readonly AllocatedKey[], { pdf }: Typesetter): Paper {
  const title = `Keys of lot ${lot}`
  const data = {
    title,
    cells: titleCells(plan, `keys ${lot}`, planOf(plan, lot)),
    lot,
    caution: keyCodesAreSecret,
    discs: discNumbers(longest(keys.map(({ cuts }) => cuts)), 3),
    short: keys.every(({ name }) => name.length <= SHORT_NAME),
    total: `${keys.length} different keys, ${keys.reduce((sum, { copies }) => sum + copies, 0)} pieces`,
    keys: keys.map(({ name, blindCode, directCode, cuts, copies, master }) => ({
      name,
      blindCode: directCode ?? blindCode, // what is stamped
      cuts: inColumns(cuts.map(String), 3),
      copies: String(copies),
      master,
    })),
  }
  return secretPaper(`secret/keys-${fileName(lot)}.pdf`, title, pdf(keySheetMarkup, data))
}

/** The lock builder's sheet of a lot: which disc on which place, which keys to try before the lock is shut. */
export function stackSheet(plan: WorksPlan, lot: string, locks: readonly AllocatedLock[], { pdf }: Typesetter): Paper {
  const title = `Stacks of lot ${lot}`
  const wide = Math.max(3, ...locks.flatMap(({ gates }) => gates.map((gate) => gateText(gate).length + 1)))
  const data = {
    title,
    cells: titleCells(plan, `stacks ${lot}`, planOf(plan, lot)),
    lot,
    caution: keyCodesAreSecret,
    sealing: sealingIsFinal.text,
    short: locks.every((lock) => lock.name.length <= SHORT_NAME && trials(lock).length <= SHORT_LINE),
    discs: discNumbers(longest(locks.map(({ gates }) => gates)), wide),
    locks: locks.map(({ name, blindCode, directCode, gates, openedBy, tryKeys }) => ({
      name,
      blindCode: directCode ?? blindCode, // what is stamped
      gates: inColumns(gates.map(gateText), wide),
      openedBy: openedBy.join(', '),
      tryKeys: tryKeys.join(', '),
    })),
  }
  return secretPaper(`secret/stacks-${fileName(lot)}.pdf`, title, pdf(stackSheetMarkup, data))
}

/** `2` or `2+4`: the gates of one disc, smallest first. */
export function gateText(gates: readonly number[]): string {
  return [...gates].sort((a, b) => a - b).join('+')
}

function planOf(plan: WorksPlan, lot: string) {
  const known: Lot | undefined = plan.lots.find(({ id }) => id === lot)
  return known === undefined ? undefined : designPlanOf(plan, known)
}

/**
 * Figures of equal width in one line: a table of hundreds of locks is set many times faster than with a cell for every disc, and
 * stands in columns all the same.
 */
export function inColumns(cells: readonly string[], width: number): string {
  return cells.map((cell) => cell.padStart(Math.ceil((width + cell.length) / 2)).padEnd(width)).join('')
}

export function discNumbers(discs: number, width: number): string {
  return inColumns(
    Array.from({ length: discs }, (_, i) => String(i + 1)),
    width,
  )
}

/** Names and lines that surely fit in one line of their column, in letters. */
const [SHORT_NAME, SHORT_LINE] = [16, 80]
const trials = ({ openedBy, tryKeys }: AllocatedLock) => [...openedBy, ...tryKeys].join(', ')

export const longest = (lists: readonly (readonly unknown[])[]) => Math.max(1, ...lists.map(({ length }) => length))

const secretPaper = (path: string, title: string, bytes: Uint8Array): Paper => ({
  path,
  mediaType: 'application/pdf',
  bytes,
  secret: true,
  title,
})
