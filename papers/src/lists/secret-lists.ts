import type { AllocatedLock, CodeAllocation, Design, WorksPlan } from '@haspwright/engine'
import type { Paper } from '../paper.ts'
import { gateText, lotsOf } from '../sheets/secret-sheets.ts'
import { type Cell, csv } from './csv.ts'

/** Pick lists that hold cuts or gates. Whoever holds one can cut the key. */
export function secretLists(plan: WorksPlan, allocation: CodeAllocation): Paper[] {
  return [keysList(allocation), stacksList(allocation), kittingList(plan, allocation)]
}

function list(path: string, title: string, bytes: Uint8Array): Paper {
  return { path, mediaType: 'text/csv; charset=utf-8', bytes, secret: true, title }
}

function keysList({ keys }: CodeAllocation): Paper {
  const discs = Math.max(1, ...keys.map(({ cuts }) => cuts.length))
  const head = ['lot', 'key', 'stamped code', 'master', 'copies', ...discHeads(discs, 'cut')]
  const rows = keys.map(({ lot, name, blindCode, directCode, master, copies, cuts }): Cell[] => [
    lot,
    name,
    directCode ?? blindCode,
    master ? 'master' : '',
    copies,
    ...padded(cuts, discs),
  ])
  return list('secret/keys.csv', 'Keys to cut', csv(head, rows))
}

function stacksList({ locks }: CodeAllocation): Paper {
  const discs = Math.max(1, ...locks.map(({ gates }) => gates.length))
  const head = ['lot', 'lock', 'stamped code', ...discHeads(discs, 'disc'), 'opened by', 'try before sealing']
  const rows = locks.map(({ lot, name, blindCode, directCode, gates, openedBy, tryKeys }): Cell[] => [
    lot,
    name,
    directCode ?? blindCode,
    ...padded(gates.map(gateText), discs),
    openedBy.join(' '),
    tryKeys.join(' '),
  ])
  return list('secret/stacks.csv', 'Stacks to build', csv(head, rows))
}

/** What a lot needs from the shelves: discs by their gates, spacers, balls, and one body, barrel and shackle a lock. */
function kittingList(plan: WorksPlan, allocation: CodeAllocation): Paper {
  const head = ['lot', 'design', 'part', 'gates', 'quantity']
  const rows = lotsOf(plan, allocation).flatMap((lot) => {
    const locks = allocation.locks.filter((lock) => lock.lot === lot)
    return [...new Set(locks.map(({ design }) => design))].flatMap((id) => {
      const ofDesign = locks.filter(({ design }) => design === id)
      const design = plan.designs.find((candidate) => candidate.design.id === id)?.design
      return [...discRows(lot, id, ofDesign), ...partRows(lot, id, ofDesign.length, design)]
    })
  })
  return list('secret/kitting.csv', 'Parts to pick for each lot', csv(head, rows))
}

function discRows(lot: string, design: string, locks: readonly AllocatedLock[]): Cell[][] {
  const counts = new Map<string, number>()
  for (const gates of locks.flatMap((lock) => lock.gates)) {
    const text = gateText(gates)
    counts.set(text, (counts.get(text) ?? 0) + 1)
  }
  return [...counts]
    .sort(([a], [b]) => a.length - b.length || a.localeCompare(b))
    .map(([gates, quantity]) => [lot, design, 'disc', gates, quantity])
}

function partRows(lot: string, id: string, locks: number, design: Design | undefined): Cell[][] {
  if (locks === 0 || design === undefined) return []
  const { mechanism, shackle } = design
  const parts: [string, number][] = [
    ['spacer', mechanism.spacerThicknessMm > 0 ? (mechanism.discs - 1) * locks : 0],
    ['sidebar', locks],
    ['ball', (shackle.notch.legs === 'both' ? 2 : 1) * locks],
    ['barrel', locks],
    ['shackle', locks],
    ['body', locks],
  ]
  return parts.filter(([, quantity]) => quantity > 0).map(([part, quantity]) => [lot, id, part, '', quantity])
}

const discHeads = (discs: number, word: string) => Array.from({ length: discs }, (_, i) => `${word} ${i + 1}`)
const padded = (cells: readonly Cell[], length: number): Cell[] => Array.from({ length }, (_, i) => cells[i] ?? '')
