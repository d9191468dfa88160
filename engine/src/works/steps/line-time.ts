import type { StepTime } from '../plan.ts'
import { linePlan } from '../plating-line.ts'
import type { StepContext } from './step.ts'

/** Where the timetable of the line is known, its cycle is counted once, at nickel; the other tanks are passed in the same round. */
export function withinLine({ design, works }: StepContext): Pick<StepTime, 'within'> {
  const nickelOnRoute = design.route.some(({ operation }) => operation === 'nickel')
  return nickelOnRoute && linePlan(design, works).ok ? { within: 'nickel' } : {}
}
