import { formatNumber } from '../display.ts'
import type { Evidence } from '../finding.ts'
import { timetableAtOnce } from '../finish/timetable/answer.ts'
import type { TimetableAnswer, TimetableInput } from '../finish/timetable/schemas.ts'
import { timetable } from '../finish/timetable/timetable.ts'
import { Refusal } from '../issue.ts'
import type { Design } from './design.ts'
import { type LineStation, lineQuestion } from './line-stations.ts'
import { remembered } from './remember.ts'
import type { Works } from './resources.ts'

/** The timetable of the works' line for one design, or why there is none. */
export type LinePlan =
  | {
      readonly ok: true
      readonly answer: TimetableAnswer
      readonly input: TimetableInput
      readonly stations: readonly LineStation[]
      /** From leaving nickel to entering chromium; absent where the design or the line has not both. */
      readonly nickelToChromiumS?: number
      readonly evidence: Evidence
    }
  | { readonly ok: false; readonly because: string }

export const NO_LINE = 'The works file does not say which tanks the plating line has and how its carrier moves.'

/** When the carriers of the line move for racks of one design, load after load. */
export function linePlan(design: Design, { plating: { line } }: Pick<Works, 'plating'>): LinePlan {
  if (line === undefined) return { ok: false, because: NO_LINE }
  const question = lineQuestion(design, line)
  return question.ok ? timedLine(question.input, question.stations) : question
}

const timedLine = remembered((input: TimetableInput, stations: readonly LineStation[]): LinePlan => {
  const notices: string[] = []
  const answer = timetableAtOnce(input, (text) => notices.push(text))
  if (answer instanceof Refusal) return { ok: false, because: answer.issues.map(({ message }) => message).join(' ') }
  const { cycleS, transfers, loadsOnLine, proven } = answer
  const [transfer] = transfers
  return {
    ok: true,
    answer,
    input,
    stations,
    ...(transfer === undefined ? {} : { nickelToChromiumS: transfer.takesS }),
    evidence: {
      calculation: timetable.id,
      input,
      working: `A load leaves the line every ${formatNumber(cycleS)} s, ${loadsOnLine} on it at a time${proven ? ', proven shortest' : ''}. ${timetable.working as string}`,
      sources: timetable.sources,
      notices,
    },
  }
}, 100)

/** What keeps the cycle from being shorter, in shop words. */
export function bottleneckOf({ answer, stations }: Extract<LinePlan, { ok: true }>): string {
  const { cycleS, slowestTank, slowestTankS, carrierS } = answer
  const near = cycleS * 0.005
  if (cycleS - slowestTankS <= near) return stations[slowestTank]?.name ?? 'a tank'
  if (cycleS - carrierS <= near) return 'the carrier'
  return `${stations[slowestTank]?.name ?? 'a tank'} and the carrier's way together`
}
