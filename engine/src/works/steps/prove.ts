import { strengthIsEstimated } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { stated } from '../ask.ts'
import { type Load, strengthEstimates, weakLinkWords } from '../strength-estimates.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Tries a sample of each lot; what only a test can say stands here as not known until it was tested. */
export const prove: StepPlanner = (context) => {
  const { design, minutesPerPiece } = context
  const { requirements } = design
  return {
    instruction:
      'Draw the sample of each lot at random. Own key and try-list keys, gauge, hardness; pull, twist, cut, salt spray, cold as the design asks.',
    settings: [
      stated('Coldest use', requirements.coldC, '°C'),
      stated('Hottest use', requirements.hotC, '°C'),
      stated('Sample', 'number and acceptance stand on the traveller of each lot'),
    ],
    time: handTime(minutesPerPiece, 'samples'),
    record: [
      'Sample drawn from, by',
      'Own key, try-list keys',
      'Pull, N',
      'Hours of salt spray, first rust',
      'Cold trial',
    ],
    cautions: [strengthIsEstimated],
    findings: [...strengthFindings(context), ...testFindings(context)],
  }
}

function strengthFindings(context: StepContext): Finding[] {
  const { requirements } = context.design
  const estimates = strengthEstimates(context.design)
  const held = (
    load: Load,
    {
      title,
      unit,
      per,
      consequence,
      remedy,
    }: { title: string; unit: string; per: number; consequence: string; remedy: string },
  ): Finding[] => {
    const asked = requirements[ASKED[load]]
    if (asked === undefined) return []
    const requirement = requirementOf(context, 'prove', load, {
      title: `${title} (estimate)`,
      sense: 'at-least',
      limit: asked.limit / per,
      unit,
      consequence,
      askedBy: asked.askedBy,
    })
    const estimate = estimates[load]
    if (!estimate.ok) return [unknown(requirement, estimate.because)]
    const { value, low, high, weakest, evidence } = estimate
    return [
      finding(requirement, {
        predicted: {
          value: value / per,
          ...(low === undefined ? {} : { low: low / per }),
          ...(high === undefined ? {} : { high: high / per }),
        },
        evidence,
        remedy: `Weakest: ${weakLinkWords[weakest]}. ${remedy}`,
      }),
    ]
  }
  return [
    ...held('pull', {
      title: 'Pull on the shackle',
      unit: 'N',
      per: 1,
      consequence: 'the shackle is pulled out of the body',
      remedy: 'Take a thicker shackle, a shallower notch, more engagement, or temper harder.',
    }),
    ...held('cut', {
      title: 'Cutting force on the shackle',
      unit: 'kN',
      per: 1000, // N → kN
      consequence: 'the shackle is cut with too little force',
      remedy: 'Take a thicker shackle or temper harder.',
    }),
    ...held('twist', {
      title: 'Twist on the shackle',
      unit: 'N·m',
      per: 1,
      consequence: 'the shackle is twisted off the body',
      remedy: 'Take a thicker shackle, shorter free legs, or temper harder.',
    }),
  ]
}

/** Which requirement asks for a load. */
const ASKED = { pull: 'pullN', twist: 'twistNm', cut: 'cutN' } as const satisfies Readonly<Record<Load, string>>

/** Requirements that no calculation here predicts: a laboratory decides. */
function testFindings(context: StepContext): Finding[] {
  const { saltSprayHours, impactColdC } = context.design.requirements
  const test = (
    key: string,
    title: string,
    unit: string,
    asked: { limit: number; askedBy: string } | undefined,
    because: string,
  ) =>
    asked === undefined
      ? []
      : [
          unknown(
            requirementOf(context, 'prove', key, {
              title,
              sense: key === 'impact' ? 'at-most' : 'at-least',
              limit: asked.limit,
              unit,
              askedBy: asked.askedBy,
            }),
            because,
          ),
        ]
  return [
    ...test(
      'salt-spray',
      'Neutral salt spray',
      'h',
      saltSprayHours,
      'Corrosion is not predicted: spray the sample (ISO 9227).',
    ),
    ...test(
      'impact',
      'Impact in the cold',
      '°C',
      impactColdC,
      'Toughness of this steel and temper in the cold is not known: test at temperature.',
    ),
  ]
}
