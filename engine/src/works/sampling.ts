import { type Finding, finding, unknown } from '../finding.ts'
import { acceptance } from '../proving/acceptance.ts'
import { samplingPlan } from '../proving/sampling-plan.ts'
import { ask } from './ask.ts'
import type { Order } from './order.ts'
import type { Lot } from './plan.ts'

/** How many locks of a lot are tried, and how many may fail. */
export function samplingOf({ release: { level, aqlPercent, severity } }: Order, lotSize: number): Lot['sampling'] {
  if (lotSize < 2) return { sampleSize: lotSize, accept: 0, reject: 1, inspectAll: true }
  const asked = ask(samplingPlan, { lotSize, level, aqlPercent, severity })
  if (!asked.ok) return null
  const { sampleSize, accept, reject } = asked.output
  return { sampleSize: Math.min(sampleSize, lotSize), accept, reject, inspectAll: sampleSize >= lotSize }
}

/** The chance that a lot as bad as must be caught still passes, for the lot where it is highest. */
export function samplingFindings({ release, id }: Order, lots: readonly Lot[]): Finding[] {
  const { limitingQualityPercent, consumerRiskPercent, askedBy } = release
  const sampled = lots.filter(({ locks }) => locks > 0)
  const [first] = sampled
  if (first === undefined) return []
  const noPlan = sampled.find(({ sampling }) => sampling === null)
  const requirement = {
    id: 'order/consumer-risk',
    title: `A lot with ${limitingQualityPercent ?? '?'} % bad locks passes`,
    operation: `${first.design}/prove`,
    sense: 'at-most',
    limit: consumerRiskPercent ?? 0,
    unit: '%',
    reference: Math.max(consumerRiskPercent ?? 1, 1),
    consequence: 'so few locks are tried that a bad lot may pass',
    askedBy: `Order ${id}`,
  } as const
  if (noPlan !== undefined)
    return [
      unknown(
        { ...requirement, title: 'Sampling plan for each lot', askedBy },
        `The table has no plan for lot ${noPlan.id} at this limit and level.`,
      ),
    ]
  if (limitingQualityPercent === undefined || consumerRiskPercent === undefined) return []
  const risks = sampled.flatMap((lot) => {
    const { sampling } = lot
    if (sampling === null || sampling.inspectAll) return []
    const asked = ask(acceptance, {
      sampleSize: sampling.sampleSize,
      accept: sampling.accept,
      fractionDefective: Math.round((lot.locks * limitingQualityPercent) / 100) / lot.locks,
      lotSize: lot.locks,
    })
    return asked.ok ? [{ lot, asked }] : []
  })
  const [worst] = risks.sort((a, b) => b.asked.output.probability - a.asked.output.probability)
  if (worst === undefined) return []
  return [
    finding(
      { ...requirement, operation: `${worst.lot.design}/prove` },
      {
        predicted: { value: worst.asked.output.probability * 100 },
        evidence: worst.asked.evidence,
        remedy:
          'Take a higher inspection level or a lower acceptance quality limit, so that more locks of each lot are tried.',
      },
    ),
  ]
}
