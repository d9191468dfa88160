import { type Finding, finding, unknown } from '../finding.ts'
import { source } from '../source.ts'
import type { Order } from './order.ts'
import type { DesignPlan, Lot } from './plan.ts'
import type { Works } from './resources.ts'

const flowLine = source({
  id: 'practice.lots-in-line',
  status: 'common practice (no source)',
  citation: 'Lots follow each other through the route in the order of the lines; a work centre takes one lot at a time',
  note: 'Other orders in the works are not counted: a finite-capacity schedule over all orders will be later than this.',
})

/**
 * When the last lot is released at the earliest, against the due date.
 *
 * Lots go through their routes in the order of the lines; a work centre takes one lot at a time and no lot overtakes. Time is counted
 * in working minutes; what runs unattended goes on day and night, so its clock time weighs less.
 */
export function leadTimeFinding(
  order: Order,
  { hoursPerDay, daysPerWeek }: Works,
  lots: readonly Lot[],
  designs: readonly DesignPlan[],
): Finding {
  const available = workingDays(order.received, order.due, daysPerWeek)
  const requirement = {
    id: 'order/due',
    title: 'Working days until the last lot is released',
    operation: `${lots[0]?.design ?? ''}/release`,
    sense: 'at-most',
    limit: available,
    unit: 'd',
    decimals: 1,
    reference: Math.max(1, available),
    consequence: 'the order is late even if nothing else waits in the works',
    askedBy: `Order ${order.id}, due ${order.due}`,
  } as const
  const untimed = lots.flatMap(({ id, steps }) =>
    steps.filter(({ minutes }) => minutes === null).map(({ operation }) => `${id} ${operation}`),
  )
  if (untimed.length > 0) return unknown(requirement, `No time is known for ${untimed.slice(0, 3).join(', ')}.`)
  const unattendedWeight = (hoursPerDay / 24) * (daysPerWeek / 7)
  const free = new Map<string, number>()
  let last = 0
  let slowest = { workCentre: '', minutes: 0 }
  const load = new Map<string, number>()
  for (const lot of lots) {
    const plans = designs.find(({ design }) => design.id === lot.design)?.operations ?? []
    let ready = 0
    for (const step of lot.steps) {
      const plan = plans.find(({ operation }) => operation === step.operation)
      if (plan === undefined) continue
      const minutes = (step.minutes ?? 0) * (plan.time?.unattended ? unattendedWeight : 1)
      ready = Math.max(ready, free.get(plan.workCentre) ?? 0) + minutes
      free.set(plan.workCentre, ready)
      const sum = (load.get(plan.workCentre) ?? 0) + minutes
      load.set(plan.workCentre, sum)
      if (sum > slowest.minutes) slowest = { workCentre: plan.workCentre, minutes: sum }
    }
    last = Math.max(last, ready)
  }
  const minutesPerDay = hoursPerDay * 60
  const days = last / minutesPerDay
  return finding(requirement, {
    predicted: { value: days },
    evidence: {
      calculation: 'works.lead-time',
      input: {
        received: order.received,
        due: order.due,
        hoursPerDay,
        daysPerWeek,
        lots: lots.map(({ id, steps }) => ({ id, steps })),
      },
      working: `The lots follow each other through ${free.size} work centres; ${slowest.workCentre} is busy longest, ${(slowest.minutes / minutesPerDay).toFixed(1)} of ${days.toFixed(1)} working days. From ${order.received} to ${order.due} there are ${available} working days.`,
      sources: [flowLine],
      notices: ['Other orders in the works are not counted.'],
    },
    remedy: `Add a shift at ${slowest.workCentre}, or agree a later date.`,
  })
}

/** Whole working days after the first date up to and including the second; the week's working days come first, Monday on. */
export function workingDays(from: string, to: string, daysPerWeek: number): number {
  const [first, last] = [dayNumber(from), dayNumber(to)]
  let days = 0
  for (let day = first + 1; day <= last; day++) if (((day + 3) % 7) + 1 <= Math.round(daysPerWeek)) days++
  return days
}

/** Days since 1970-01-01, a Thursday, by the proleptic Gregorian calendar. */
function dayNumber(date: string): number {
  return Math.floor(Date.parse(`${date}T00:00:00Z`) / 86_400_000)
}
