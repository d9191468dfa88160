import { formatQuantity } from '../display.ts'
import type { Finding } from '../finding.ts'
import type { Sentence } from './plan.ts'

const WORDS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten']
const counted = (n: number, one: string, many: string) => `${WORDS[n] ?? n} ${n === 1 ? one : many}`

/** The one line that tells where an order stands: what limits it, by how much, what to do. Findings come tightest first. */
export function sentenceFor(findings: readonly Finding[]): Sentence {
  const short = findings.filter(({ verdict }) => verdict === 'falls-short')
  const known = findings.filter(({ verdict }) => verdict !== 'not-known')
  const open = findings.length - known.length
  const tightest = known[0]
  const waiting =
    open === 0 ? '' : ` ${counted(open, 'requirement is', 'requirements are')} not known yet and must be tested.`
  if (tightest === undefined)
    return { verdict: 'not-known', headline: 'Nothing can be judged yet', detail: '', action: waiting.trim() }
  if (short.length === 0)
    return {
      verdict: 'holds',
      headline: 'Every margin that can be computed holds',
      detail: `Tightest: ${distance(tightest)}.`,
      action: open === 0 ? 'Nothing to change.' : waiting.trim(),
    }
  return {
    verdict: 'falls-short',
    headline: counted(short.length, 'margin falls short', 'margins fall short'),
    detail: `${distance(tightest)}${tightest.consequence === undefined ? '' : `: ${tightest.consequence}`}.`,
    action: tightest.remedy ?? 'Open its working to see which input carries most of it.',
  }
}

/** The sentence as one line of text, for a console or a head line. */
export function sentenceText({ headline, detail, action }: Sentence): string {
  return [`${headline}: ${detail.charAt(0).toLowerCase()}${detail.slice(1)}`, action]
    .filter((part) => part !== '')
    .join(' ')
}

function distance({ title, predicted, margin = 0, limit, unit, verdict }: Finding): string {
  if (predicted === undefined) return title
  const by = formatGap(Math.abs(margin), unit)
  const against = `${formatQuantity(predicted.value, unit)} against ${formatQuantity(limit, unit)}`
  return verdict === 'falls-short' ? `${title} is ${against}, ${by} short` : `${title}, ${against}, ${by} left`
}

/** A gap in millimetres below a tenth reads better in micrometres. */
function formatGap(gap: number, unit: string): string {
  return unit === 'mm' && gap < 0.1 ? formatQuantity(gap * 1000, 'µm', 2) : formatQuantity(gap, unit, 2)
}
