import {
  distanceWords,
  type Finding,
  figureWords,
  formatNumber,
  limitWords,
  predictedWords,
  type WorksPlan,
} from '@haspwright/engine'
import type { Paper } from '../paper.ts'
import type { Typesetter } from '../typeset/typesetter.ts'
import { writtenDay, writtenSources, writtenWorking } from '../typeset/written.ts'
import { titleCells } from './context.ts'
import { writtenInputs } from './inputs.ts'
import { marginsMarkup } from './margins-markup.ts'

/** What the bars can show, as shares of the limit: tight margins are what the sheet is for. What is further out is cut with a break. */
const [LEFT_END, RIGHT_END] = [-0.22, 0.5]

/** All margins of an order on one limit line, tightest first, then each with its working. */
export function marginsSheet(plan: WorksPlan, { pdf }: Typesetter): Paper {
  const { sentence, order } = plan
  const title = `Margins of order ${order.id}`
  const data = {
    title,
    cells: titleCells(plan, 'margins'),
    customer: order.customer.name,
    about: `order ${order.id} · due ${writtenDay(order.due)} · ${plan.designs.map(({ design }) => `${design.id} rev ${design.revision}`).join(' · ')}`,
    verdict: sentence.verdict,
    headline: sentence.headline,
    detail: sentence.detail,
    action: sentence.action,
    notices: plan.notices,
    rows: plan.findings.map((finding, i) => ({ number: String(i + 1), ...writtenFinding(plan, finding) })),
  }
  return { path: 'margins.pdf', mediaType: 'application/pdf', bytes: pdf(marginsMarkup, data), secret: false, title }
}

function writtenFinding(plan: WorksPlan, finding: Finding) {
  const { evidence, predicted } = finding
  return {
    title: finding.title,
    step: stepName(plan, finding.operation),
    verdict: finding.verdict,
    value: predicted === undefined ? 'not known yet' : predictedWords(finding),
    limit: limitWords(finding),
    bar: bar(finding),
    words: inWords(finding),
    askedBy: finding.askedBy,
    consequence: finding.consequence ?? '',
    remedy: finding.remedy ?? '',
    because: finding.unknownBecause ?? '',
    spread:
      predicted?.low === undefined || predicted.high === undefined
        ? ''
        : `${figureWords(predicted.low, finding)} to ${figureWords(predicted.high, finding)}`,
    working:
      evidence === undefined
        ? []
        : typeof evidence.working === 'string'
          ? evidence.working
          : writtenWorking(evidence.working),
    inputs: evidence === undefined ? null : writtenInputs(evidence.calculation, evidence.input),
    shares: (evidence?.shares ?? []).map(({ name, share }) => ({ name, share: `${formatNumber(share * 100, 2)} %` })),
    sources: writtenSources(evidence?.sources ?? []),
    notices: evidence?.notices ?? [],
  }
}

/** Where bar and whisker end, and whether they go on past the picture. */
function bar({ verdict, marginShare, marginShareLow, marginShareHigh }: Finding) {
  if (verdict === 'not-known' || marginShare === undefined) return null
  const inside = (share: number) => Math.min(RIGHT_END, Math.max(LEFT_END, share))
  return {
    share: inside(marginShare),
    cut: inside(marginShare) !== marginShare,
    low: marginShareLow === undefined ? null : inside(marginShareLow),
    high: marginShareHigh === undefined ? null : inside(marginShareHigh),
    'low-seen': marginShareLow !== undefined && inside(marginShareLow) === marginShareLow,
    'high-seen': marginShareHigh !== undefined && inside(marginShareHigh) === marginShareHigh,
  }
}

function inWords(finding: Finding): string {
  const { verdict, margin = 0, marginShare = 0 } = finding
  if (verdict === 'not-known') return 'Not known yet.'
  const share =
    finding.scale === undefined || finding.scale === 'linear'
      ? `, ${formatNumber(Math.abs(marginShare) * 100, 3)} %`
      : ''
  const amount = `${distanceWords(Math.abs(margin), finding.unit)}${share}`
  return verdict === 'holds' ? `Holds, ${amount} left.` : `Falls short by ${amount}.`
}

/** `HB50 · Close`; what belongs to no step of a design keeps its own name. */
function stepName({ designs }: WorksPlan, operation: string): string {
  for (const { design, operations } of designs) {
    const step = operations.find(({ id }) => id === operation)
    if (step !== undefined) return designs.length > 1 ? `${design.id} · ${step.title}` : step.title
  }
  return operation
}
