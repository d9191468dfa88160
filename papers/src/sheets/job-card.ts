import {
  type DesignPlan,
  formatMinutes,
  formatNumber,
  type Gauge,
  type OperationPlan,
  type Setting,
  type WorksPlan,
} from '@haspwright/engine'
import { partDrawing, printPalette } from '../drawing/index.ts'
import { fileName, type Paper } from '../paper.ts'
import type { Typesetter } from '../typeset/typesetter.ts'
import { type SplitNumber, splitNumber, type WrittenStep, writtenSources, writtenWorking } from '../typeset/written.ts'
import { titleCells } from './context.ts'
import { jobCardMarkup } from './job-card-markup.ts'
import { lineOnCard } from './line-on-card.ts'

/** Everything the person at the machine needs for one step of a design, on a sheet of its own. */
export function jobCard(plan: WorksPlan, design: DesignPlan, step: OperationPlan, { pdf }: Typesetter): Paper {
  const number = design.operations.indexOf(step) + 1
  const title = `Job card ${design.design.id} ${number}: ${step.title}`
  const evidence = distinctEvidence(step.settings)
  const data = {
    title,
    cells: titleCells(plan, `job card ${number} / ${design.operations.length}`, design),
    number: `${number} / ${design.operations.length}`,
    step: step.title,
    design: `${design.design.title} (${design.design.id}, revision ${design.design.revision})`,
    workCentre: step.workCentre,
    instruction: step.instruction,
    time: timeWords(step, design),
    drawing: partDrawing(step.operation, design.design, 'sheet', printPalette),
    line: lineOnCard(plan, design, step.operation),
    cautions: step.cautions.map(({ title: name, text }) => ({ title: name, text })),
    settings: step.settings.map(writtenSetting),
    sizes: step.sizes.map(({ feature, beforePlatingMm, finishedMm, because = '' }) => ({
      feature,
      before: beforePlatingMm === null ? '' : limits(beforePlatingMm),
      finished: limits(finishedMm),
      because,
    })),
    gauges: step.gauges.map(writtenGauge),
    record: step.record,
    workings: evidence.map(({ titles, working, notices }) => ({ titles, working, notices })),
    sources: writtenSources(evidence.flatMap(({ sources }) => sources)),
  }
  return {
    path: `cards/${fileName(design.design.id)}-${String(number).padStart(2, '0')}-${step.operation}.pdf`,
    mediaType: 'application/pdf',
    bytes: pdf(jobCardMarkup, data),
    secret: false,
    title,
  }
}

interface WrittenSetting {
  readonly title: string
  readonly kind: 'number' | 'words' | 'unknown'
  readonly number: SplitNumber
  readonly words: string
  readonly unit: string
  readonly because: string
}

function writtenSetting({ title, value, unit, because = '' }: Setting): WrittenSetting {
  const base = { title, unit, because, number: { whole: '', rest: '' }, words: '' }
  if (value === null) return { ...base, kind: 'unknown' }
  if (typeof value === 'string') return { ...base, kind: 'words', words: value }
  return { ...base, kind: 'number', number: splitNumber(value) }
}

function limits({ minMm, maxMm }: { minMm: number; maxMm: number }): string {
  return minMm === maxMm ? minMm.toFixed(3) : `${minMm.toFixed(3)} to ${maxMm.toFixed(3)}`
}

const GAUGE_NAMES: Readonly<Record<Gauge['kind'], string>> = {
  plug: 'plug',
  ring: 'ring',
  block: 'block',
  tester: 'tester',
}

function writtenGauge({ feature, kind, goMm, noGoMm, stage }: Gauge) {
  return { feature, kind: GAUGE_NAMES[kind], go: goMm.toFixed(3), noGo: noGoMm.toFixed(3), stage }
}

function timeWords({ setupMinutes, time }: OperationPlan, { operations }: DesignPlan): string {
  const setup = setupMinutes > 0 ? `Set-up ${formatMinutes(setupMinutes)}. ` : ''
  if (time === null) return `${setup}Time is not known yet.`
  if (time.per === 'piece') return `${setup}${formatMinutes(time.minutes)} a piece.`
  const most = time.piecesPerLoad === undefined ? '' : `, at most ${formatNumber(time.piecesPerLoad)} ${time.of}`
  if (time.firstMinutes !== undefined)
    return `${setup}A load every ${formatMinutes(time.minutes)}${most}; the first is through after ${formatMinutes(time.firstMinutes)}.`
  const round = operations.find(({ operation }) => operation === time.within)?.title
  const within = round === undefined ? '' : ` Passed in the round of “${round}” and counted there.`
  return `${setup}${formatMinutes(time.minutes)} a load${most}${time.unattended ? ', runs unattended' : ''}.${within}`
}

interface KeyFigures {
  titles: string[]
  readonly working: readonly WrittenStep[] | string
  readonly sources: NonNullable<Setting['evidence']>['sources']
  readonly notices: readonly string[]
}

/** Workings behind the settings; several settings of one calculation share one. */
function distinctEvidence(settings: readonly Setting[]): KeyFigures[] {
  const found = new Map<string, KeyFigures>()
  for (const { title, evidence } of settings) {
    if (evidence === undefined) continue
    const key = `${evidence.calculation} ${JSON.stringify(evidence.working)}`
    const known = found.get(key)
    if (known !== undefined) known.titles.push(title)
    else {
      const { working, sources, notices } = evidence
      found.set(key, {
        titles: [title],
        working: typeof working === 'string' ? working : writtenWorking(working),
        sources,
        notices,
      })
    }
  }
  return [...found.values()]
}
