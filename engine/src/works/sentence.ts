import type { Finding } from '../finding.ts'
import { distanceWords, figureWords } from '../finding-words.ts'
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

/** How far the tightest margin is from its limit; probabilities have no distance that says anything. */
function distance(finding: Finding): string {
  const { title, predicted, margin = 0, limit, unit, verdict, scale = 'linear' } = finding
  if (predicted === undefined || limit === null) return title
  const figures = `${figureWords(predicted.value, finding)} against ${figureWords(limit, finding)}`
  const by =
    scale === 'linear'
      ? `, ${distanceWords(Math.abs(margin), unit)} ${verdict === 'falls-short' ? 'short' : 'left'}`
      : ''
  return verdict === 'falls-short' ? `${title} is ${figures}${by}` : `${title}, ${figures}${by}`
}
