import { keyCodesAreSecret, sealingIsFinal, type WorksPlan } from '@haspwright/engine'
import type { ChartKey, ChartLock, KeyChart } from '../key-chart.ts'
import { fileName, type Paper } from '../paper.ts'
import type { Typesetter } from '../typeset/typesetter.ts'
import { writtenDay } from '../typeset/written.ts'
import { chartMatrixMarkup, cuttingListMarkup } from './chart-markup.ts'
import { titleCells } from './context.ts'
import { discNumbers, gateText, inColumns, longest } from './secret-sheets.ts'

/** Columns of keys that a page takes beside the columns of words. */
const COLUMNS = { a4: 22, a3: 44 } as const

/**
 * The chart for the customer, without a cut: locks down, keys that open more than one across, the keys of its own beside each lock.
 * A4 across, or A3 where the keys are many; what a page does not take goes on the next under the same heads.
 */
export function chartMatrix(plan: WorksPlan, chart: KeyChart, { pdf }: Typesetter): Paper {
  const title = `Chart of line ${chart.line}, who opens what`
  const paper = chart.sharedKeys.length <= COLUMNS.a4 ? 'a4' : 'a3'
  const data = {
    title,
    paper,
    cells: chartCells(plan, chart, `chart ${chart.line}`),
    customer: plan.order.customer.name,
    facts: `Order ${plan.order.id}, line ${chart.line} · ${countOf(chart.locks, 'lock')} · ${countOf(chart.sharedKeys, 'key')} over several locks, ${countOf(chart.ownKeys, 'key')} of one lock · due ${writtenDay(plan.order.due)}`,
    blocks: blocksOf(chart, COLUMNS[paper]),
    headMm: Math.min(34, 5 + 1.25 * Math.max(0, ...chart.sharedKeys.map(({ name }) => name.length))),
    keys: chart.sharedKeys.map(({ name, blindCode, level, opens, copies }) => [
      shortName(chart, name),
      blindCode,
      ...[level, opens, copies].map(String),
    ]),
  }
  return {
    path: `charts/${fileName(chart.line)}-who-opens-what.pdf`,
    mediaType: 'application/pdf',
    bytes: pdf(chartMatrixMarkup, data),
    secret: false,
    title,
  }
}

/** The works' cutting list of a chart: the cuts of every key and the gates of every lock, disc by disc. */
export function cuttingList(plan: WorksPlan, chart: KeyChart, { pdf }: Typesetter): Paper {
  const title = `Cutting list of chart ${chart.line}`
  const keys = [...chart.sharedKeys, ...chart.ownKeys]
  const wide = Math.max(3, ...chart.locks.flatMap(({ gates }) => gates.map((gate) => gateText(gate).length + 1)))
  const data = {
    title,
    cells: chartCells(plan, chart, `cutting list ${chart.line}`),
    line: chart.line,
    caution: keyCodesAreSecret,
    sealing: sealingIsFinal.text,
    total: `${countOf(keys, 'different key')}, ${keys.reduce((sum, { copies }) => sum + copies, 0)} pieces, for ${countOf(chart.locks, 'lock')}`,
    keyDiscs: discNumbers(longest(keys.map(({ cuts }) => cuts)), 3),
    keys: keys.map(({ name, blindCode, cuts, copies, opens, master }) => ({
      name,
      master,
      blindCode,
      cuts: inColumns(cuts.map(String), 3),
      opens: `${opens}`,
      copies: `${copies}`,
    })),
    lockDiscs: discNumbers(longest(chart.locks.map(({ gates }) => gates)), wide),
    locks: chart.locks.map(({ name, lot, gates, openedBy }) => ({
      name,
      lot,
      gates: inColumns(gates.map(gateText), wide),
      openedBy: openedBy.join(', '),
    })),
  }
  return {
    path: `secret/chart-${fileName(chart.line)}-cutting-list.pdf`,
    mediaType: 'application/pdf',
    bytes: pdf(cuttingListMarkup, data),
    secret: true,
    title,
  }
}

/** Keys of one stretch of columns, and for every lock which of them open it. At least one stretch, if with no key. */
function blocksOf(chart: KeyChart, columns: number) {
  const { sharedKeys, locks } = chart
  const blocks = Math.max(1, Math.ceil(sharedKeys.length / columns))
  const each = Math.ceil(sharedKeys.length / blocks)
  return Array.from({ length: blocks }, (_, block) => {
    const keys = sharedKeys.slice(block * each, (block + 1) * each)
    return {
      heads: keys.map(({ name }) => shortName(chart, name)),
      part: blocks === 1 ? '' : `keys ${block * each + 1} to ${block * each + keys.length} of ${sharedKeys.length}`,
      rows: locks.map((lock, i) => ({ ...matrixRow(lock, keys, locks[i - 1]), under: shortName(chart, lock.under) })),
    }
  })
}

/** Names of masters carry the line of the order, which the sheet says already. */
const shortName = ({ line }: KeyChart, name: string) =>
  name.startsWith(`${line} `) ? name.slice(line.length + 1) : name

function matrixRow(
  { name, blindCode, own, under, openedBy }: ChartLock,
  keys: readonly ChartKey[],
  before?: ChartLock,
) {
  const openers = new Set(openedBy)
  return {
    name,
    blindCode,
    own: own.join(', '),
    under,
    first: before !== undefined && before.under !== under,
    marks: keys.flatMap((key, column) => (openers.has(key.name) ? [column] : [])),
  }
}

function chartCells(plan: WorksPlan, { design }: KeyChart, sheet: string): string[] {
  return titleCells(
    plan,
    sheet,
    plan.designs.find((candidate) => candidate.design.id === design),
  )
}

const countOf = (items: readonly unknown[], word: string) => `${items.length} ${word}${items.length === 1 ? '' : 's'}`
