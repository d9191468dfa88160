import type { KeyChart } from '../key-chart.ts'
import { fileName, type Paper } from '../paper.ts'
import { gateText } from '../sheets/secret-sheets.ts'
import { type Cell, csv } from './csv.ts'

/** The chart as lists: who opens what for the customer, cuts and gates for the works. */
export function chartLists(chart: KeyChart): Paper[] {
  return [matrixList(chart), cutsList(chart), gatesList(chart)]
}

function matrixList({ line, locks, sharedKeys }: KeyChart): Paper {
  const head = ['lock', 'blind code', 'own keys', 'under', ...sharedKeys.map(({ name }) => name)]
  const rows = locks.map(({ name, blindCode, own, under, openedBy }): Cell[] => {
    const openers = new Set(openedBy)
    return [name, blindCode, own.join('; '), under, ...sharedKeys.map((key) => (openers.has(key.name) ? 'opens' : ''))]
  })
  return list(`charts/${fileName(line)}-who-opens-what.csv`, `Chart of line ${line}, who opens what`, {
    head,
    rows,
    secret: false,
  })
}

function cutsList({ line, sharedKeys, ownKeys }: KeyChart): Paper {
  const keys = [...sharedKeys, ...ownKeys]
  const discs = Math.max(1, ...keys.map(({ cuts }) => cuts.length))
  const head = ['key', 'blind code', 'master', 'locks it opens', 'copies', ...discHeads(discs, 'cut')]
  const rows = keys.map(({ name, blindCode, master, opens, copies, cuts }): Cell[] => [
    name,
    blindCode,
    master ? 'master' : '',
    opens,
    copies,
    ...cuts,
  ])
  return list(`secret/chart-${fileName(line)}-keys.csv`, `Keys of chart ${line}`, { head, rows, secret: true })
}

function gatesList({ line, locks }: KeyChart): Paper {
  const discs = Math.max(1, ...locks.map(({ gates }) => gates.length))
  const head = ['lock', 'lot', 'opened by', ...discHeads(discs, 'disc')]
  const rows = locks.map(({ name, lot, gates, openedBy }): Cell[] => [
    name,
    lot,
    openedBy.join('; '),
    ...gates.map(gateText),
  ])
  return list(`secret/chart-${fileName(line)}-locks.csv`, `Locks of chart ${line}`, { head, rows, secret: true })
}

function list(
  path: string,
  title: string,
  { head, rows, secret }: { head: string[]; rows: Cell[][]; secret: boolean },
): Paper {
  return { path, mediaType: 'text/csv; charset=utf-8', bytes: csv(head, rows), secret, title }
}

const discHeads = (discs: number, word: string) => Array.from({ length: discs }, (_, i) => `${word} ${i + 1}`)
