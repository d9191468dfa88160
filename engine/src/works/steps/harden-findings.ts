import { type Finding, finding, type Requirement, unknown } from '../../finding.ts'
import { checkAnalysis } from '../../heat/check-analysis.ts'
import type { temper } from '../../heat/temper.ts'
import type { temperFor } from '../../heat/temper-for.ts'
import { ask } from '../ask.ts'
import type { HeatCase } from '../heat-case.ts'
import { requirementOf, type StepContext } from './step.ts'

interface Tempering {
  readonly tempered: ReturnType<typeof ask<typeof temper.input, typeof temper.output>>
  readonly proposed: ReturnType<typeof ask<typeof temperFor.input, typeof temperFor.output>>
}

/** Judged at the end that hurts, two Rockwell points off: the band in which published tempering tables are repeated. */
const CARD_SCATTER_HRC = 2

/** What hardening answers for. With several heats at hand each row is that of the heat it goes worst with: any of them may be cut. */
export function hardeningFindings(
  context: StepContext,
  cases: readonly HeatCase[],
  tempering: Tempering,
): readonly Finding[] {
  const judges = [
    (each: HeatCase) => hardness(context, each, tempering, 'least'),
    (each: HeatCase) => hardness(context, each, tempering, 'most'),
    (each: HeatCase) => core(context, each),
    (each: HeatCase) => certificate(context, each),
    (each: HeatCase) => transfer(context, each),
    (each: HeatCase) => uniformity(context, each),
  ]
  return judges.map((judge) => worst(cases.map((each) => (cases.length > 1 ? named(judge(each), each) : judge(each)))))
}

/** What falls short first, then what is not known, then the tightest: a heat that nobody can judge is no comfort. */
function worst(findings: readonly Finding[]): Finding {
  const rank = { 'falls-short': 0, 'not-known': 1, holds: 2 } as const
  const [first] = [...findings].sort(
    (a, b) => rank[a.verdict] - rank[b.verdict] || (a.marginShare ?? 0) - (b.marginShare ?? 0),
  )
  if (first === undefined) throw new Error('a requirement is judged for one heat at least')
  return first
}

function named(found: Finding, { barHeat }: HeatCase): Finding {
  const heat = `Heat ${barHeat?.number}: `
  const { unknownBecause, remedy } = found
  return {
    ...found,
    ...(unknownBecause === undefined ? {} : { unknownBecause: heat + unknownBecause }),
    ...(remedy === undefined ? {} : { remedy: heat + remedy }),
  }
}

/** Hardness at the surface after tempering: the card's, never harder than the heat comes out of the quench. */
function hardness(
  context: StepContext,
  { quenched }: HeatCase,
  { tempered, proposed }: Tempering,
  key: 'least' | 'most',
): Finding {
  const { heat, shackle } = context.design
  const { minHrc, maxHrc, askedBy } = heat.hardness
  const requirement = requirementOf(context, 'harden', `hardness-${key}`, {
    title: key === 'least' ? 'Hardness after tempering, least' : 'Hardness after tempering, most',
    sense: key === 'least' ? 'at-least' : 'at-most',
    limit: key === 'least' ? minHrc : maxHrc,
    unit: 'HRC',
    reference: Math.max(1, maxHrc - minHrc),
    consequence:
      key === 'least' ? 'the shackle is cut or bent too easily' : 'the shackle is brittle and takes up more hydrogen',
    askedBy,
  })
  if (!tempered.ok) return unknown(requirement, tempered.because)
  const { hrc, leastHrc = hrc, mostHrc = hrc } = tempered.output
  if (hrc === undefined || leastHrc === undefined || mostHrc === undefined)
    return unknown(requirement, `No tempering table is known for ${shackle.steel}.`)
  const most = quenched.ok ? quenched.output.hrc : Number.POSITIVE_INFINITY
  const [low, high] = [Math.min(leastHrc, most) - CARD_SCATTER_HRC, Math.min(mostHrc, most) + CARD_SCATTER_HRC]
  return finding(requirement, {
    predicted: { value: key === 'least' ? low : high, low, high },
    evidence: tempered.evidence,
    ...(proposed.ok
      ? { remedy: `Temper at ${proposed.output.temperatureC.toFixed(0)} °C instead of ${heat.temperC} °C.` }
      : {}),
  })
}

/** Hardness at the core after tempering: an estimate where the section hardens through, else only a bound from above. */
function core(context: StepContext, { tempered, barHeat }: HeatCase): Finding {
  const { minHrc, maxHrc, askedBy } = context.design.heat.hardness
  const requirement = requirementOf(context, 'harden', 'hardness-core', {
    title: 'Hardness at the core of the shackle',
    sense: 'at-least',
    limit: minHrc,
    unit: 'HRC',
    reference: Math.max(1, maxHrc - minHrc),
    consequence: 'the core stays soft: it bends and cuts more easily than the surface tells',
    askedBy,
  })
  if (!tempered.ok) return unknown(requirement, tempered.because)
  const { centreHrc, centreLowHrc, centreHighHrc, centreBasis } = tempered.output
  if (centreBasis === 'upper bound' && centreHrc >= requirement.limit)
    return unknown(
      requirement,
      'The core does not harden through, so only an upper bound is known: section a trial shackle and measure to the middle.',
    )
  if (centreBasis === 'estimate' && centreLowHrc === undefined)
    return unknown(
      requirement,
      barHeat === undefined
        ? 'The leanest analysis that the steel allows may not harden through: give the analysis of the heat, or section a trial shackle.'
        : 'A bar of this heat at the lean end of the product deviations may not harden through: section a trial shackle.',
    )
  const low = centreLowHrc ?? centreHrc
  return finding(requirement, {
    predicted: { value: low, low, high: centreHighHrc },
    evidence: tempered.evidence,
    remedy: 'Take a steel that hardens deeper, a thinner shackle, or a sharper quench.',
  })
}

/** Whether the bars at hand are the steel that the design asks for. */
function certificate(context: StepContext, { barHeat }: HeatCase): Finding {
  const { steel, barForm } = context.design.shackle
  const requirement = requirementOf(context, 'harden', 'certificate', {
    title: 'Analysis of the shackle bars, room to the nearest limit',
    sense: 'at-least',
    limit: 0,
    unit: '%',
    reference: 100,
    consequence: 'the bars are not the steel that all figures of hardening rest on',
    askedBy: `Composition of ${steel}`,
  })
  if (barHeat === undefined)
    return unknown(
      requirement,
      `No certificate of ${barForm} is at hand: everything rests on the middle of the range of ${steel}. Enter the heat and its analysis with the stock of the works.`,
    )
  const checked = ask(checkAnalysis, { steel, kind: barHeat.kind, analysis: barHeat.analysis })
  if (!checked.ok) return unknown(requirement, checked.because)
  const { objections, roomPercent, nearest } = checked.output
  if (roomPercent === undefined) return unknown(requirement, objections.join(' '))
  return finding(requirement, {
    predicted: { value: roomPercent },
    evidence: { ...checked.evidence, notices: [...checked.evidence.notices, `Nearest to its limit: ${nearest}.`] },
    remedy: `${objections.join(' ')} Keep the bars apart and ask the mill, or take another heat.`,
  })
}

/** Seconds from the furnace into the bath, against the time in which the shackle cools to Ac3. */
function transfer(context: StepContext, { delay }: HeatCase): Finding {
  const asked = {
    title: 'From the furnace into the bath',
    sense: 'at-most',
    unit: 's',
    decimals: 1,
    consequence: 'the shackle turns soft in part before it is quenched',
    askedBy: 'Common practice: all of the shackle is still above Ac3 when it goes in',
  } as const
  if (!delay.ok)
    return unknown(
      { ...requirementOf(context, 'harden', 'transfer', { ...asked, limit: 1 }), limit: null },
      delay.because,
    )
  const requirement = requirementOf(context, 'harden', 'transfer', { ...asked, limit: delay.output.seconds })
  const { transferSeconds } = context.works.furnace
  if (transferSeconds === undefined)
    return unknown(
      requirement,
      'Time the way from the furnace into the bath with a watch and enter it with the furnace; the record of a charge then tells it again.',
    )
  return finding(requirement, {
    predicted: { value: transferSeconds },
    evidence: delay.evidence,
    remedy: `Be in the bath within ${delay.output.seconds.toFixed(1)} s of leaving the furnace: move the tank closer, or keep the shackles packed until the basket dips.`,
  })
}

/** How far the furnace may lie off its setting anywhere in the charge. */
function uniformity(context: StepContext, { window }: HeatCase): Finding {
  const asked = {
    title: 'Furnace off its setting, anywhere in the charge',
    sense: 'at-most',
    unit: 'K',
    consequence: 'some shackles are not all austenite, others grow coarse grain and crack',
    askedBy: 'Hardening heat of the steel',
  } as const
  if (!window.ok)
    return unknown(
      { ...requirementOf(context, 'harden', 'uniformity', { ...asked, limit: 1 }), limit: null },
      window.because,
    )
  const { maxC, minC } = window.output
  const requirement: Requirement = requirementOf(context, 'harden', 'uniformity', {
    ...asked,
    limit: (maxC - minC) / 2,
  })
  const { uniformityK } = context.works.furnace
  if (uniformityK === undefined)
    return unknown(
      requirement,
      'How even the furnace is, is not stated: survey it with couples through the charge and enter the largest distance from the setting.',
    )
  return finding(requirement, {
    predicted: { value: uniformityK },
    evidence: window.evidence,
    remedy: 'Have the furnace mended or load less, so that every couple lies within the hardening heat.',
  })
}
