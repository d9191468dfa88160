import {
  type Caution,
  formatMinutes,
  formatNumber,
  type Lot,
  type OperationPlan,
  type WorksPlan,
} from '@haspwright/engine'
import { partDrawing, printPalette } from '../drawing/index.ts'
import { fileName, type Paper } from '../paper.ts'
import { scanCode } from '../typeset/scan-code.ts'
import type { Typesetter } from '../typeset/typesetter.ts'
import { writtenDay } from '../typeset/written.ts'
import { designPlanOf, titleCells } from './context.ts'
import { travellerMarkup } from './traveller-markup.ts'

/** Once done, no way back: it stands on the sheet in words. */
const IRREVERSIBLE: Readonly<Partial<Record<OperationPlan['operation'], string>>> = {
  close: 'Cannot be undone. Everything above is done and signed first.',
}

/** The sheet that goes with a lot from bar to box. Its scannable code says the lot and nothing else. */
export function traveller(plan: WorksPlan, lot: Lot, { pdf }: Typesetter): Paper {
  const design = designPlanOf(plan, lot)
  const steps = lot.steps.map(({ operation, loads, minutes }, i) => {
    const step = design?.operations.find((candidate) => candidate.operation === operation)
    return {
      number: String(i + 1),
      title: step?.title ?? operation,
      workCentre: step?.workCentre ?? '',
      loads: loads === null ? '' : formatNumber(loads),
      minutes: minutes === null ? 'not known yet' : formatMinutes(minutes),
      record: step?.record ?? [],
      cautions: (step?.cautions ?? []).map(({ title }) => title),
      final: IRREVERSIBLE[operation] ?? '',
      picture: design === undefined ? '' : partDrawing(operation, design.design, 'station', printPalette),
    }
  })
  const title = `Traveller ${lot.id}`
  const data = {
    title,
    cells: titleCells(plan, `traveller ${lot.id}`, design),
    lot: lot.id,
    code: scanCode(lot.id),
    customer: plan.order.customer.name,
    facts: facts(plan, lot, design?.design.title),
    steps,
    cautions: distinctCautions(design?.operations ?? [], lot),
    sampling: samplingWords(lot),
  }
  return {
    path: `travellers/${fileName(lot.id)}.pdf`,
    mediaType: 'application/pdf',
    bytes: pdf(travellerMarkup, data),
    secret: false,
    title,
  }
}

function facts(
  { order }: WorksPlan,
  lot: Lot,
  design: string | undefined,
): { name: string; value: string; figure: boolean }[] {
  const locks = lot.locks === 0 ? 'no locks' : `${lot.locks} (${lot.firstLock} to ${lot.lastLock} of line ${lot.line})`
  return [
    { name: 'Order', value: order.id, figure: true },
    { name: 'Their reference', value: order.customer.reference ?? 'none', figure: false },
    { name: 'Design', value: design === undefined ? lot.design : `${lot.design}, ${design}`, figure: false },
    { name: 'Keying', value: lot.keying, figure: false },
    { name: 'Locks', value: locks, figure: true },
    { name: 'Keys', value: String(lot.keys), figure: true },
    { name: 'Due', value: writtenDay(order.due), figure: false },
  ]
}

function distinctCautions(operations: readonly OperationPlan[], lot: Lot): { title: string; text: string }[] {
  const inLot = new Set(lot.steps.map(({ operation }) => operation))
  const all: Caution[] = operations.filter(({ operation }) => inLot.has(operation)).flatMap(({ cautions }) => cautions)
  return [...new Map(all.map(({ id, title, text }) => [id, { title, text }])).values()]
}

function samplingWords({ sampling, locks }: Lot): string {
  if (sampling === null) return locks === 0 ? '' : 'Sample: not known yet.'
  if (sampling.inspectAll) return 'Inspect every lock.'
  return `Take ${sampling.sampleSize} locks at random. Accept with ${sampling.accept} bad or fewer, reject with ${sampling.reject} or more.`
}
