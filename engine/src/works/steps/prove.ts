import { strengthIsEstimated } from '../../caution.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { cutStrength } from '../../shackle/cut-strength.ts'
import { pullStrength } from '../../shackle/pull-strength.ts'
import { twistStrength } from '../../shackle/twist-strength.ts'
import { ask, stated } from '../ask.ts'
import { engagementMm } from '../chains/detent-chains.ts'
import { halfNotchMm } from '../notch.ts'
import { holdingStrength } from '../parts.ts'
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
    findings: [...pullFindings(context), ...cutFindings(context), ...twistFindings(context), ...testFindings(context)],
  }
}

function pullFindings(context: StepContext): Finding[] {
  const { design } = context
  const { pullN } = design.requirements
  if (pullN === undefined) return []
  const requirement = requirementOf(context, 'prove', 'pull', {
    title: 'Pull on the shackle (estimate)',
    sense: 'at-least',
    limit: pullN.limit,
    unit: 'N',
    consequence: 'the shackle is pulled out of the body',
    askedBy: pullN.askedBy,
  })
  const tensile = holdingStrength(design)
  if (!tensile.ok) return [unknown(requirement, tensile.because)]
  const { shackle, ball } = design
  const asked = ask(pullStrength, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    notchDepthMm: shackle.notch.depth.nominalMm,
    ballDiameterMm: ball.diameter.nominalMm,
    legsHeld: shackle.notch.legs === 'both' ? 2 : 1,
    tensileMPa: tensile.tensileMPa,
    engagementMm: engagementMm(design),
    notchToEndMm: shackle.notch.fromToeEndMm - halfNotchMm(shackle.notch),
  })
  if (!asked.ok) return [unknown(requirement, asked.because)]
  const { pullN: predicted, weakestLink } = asked.output
  return [
    finding(requirement, {
      predicted: { value: predicted },
      evidence: asked.evidence,
      remedy: `Weakest: ${weakestLink}. Take a thicker shackle, a shallower notch, more engagement, or temper harder.`,
    }),
  ]
}

function cutFindings(context: StepContext): Finding[] {
  const { design } = context
  const { cutN } = design.requirements
  if (cutN === undefined) return []
  const requirement = requirementOf(context, 'prove', 'cut', {
    title: 'Cutting force on the shackle (estimate)',
    sense: 'at-least',
    limit: cutN.limit / 1000, // N → kN
    unit: 'kN',
    consequence: 'the shackle is cut with too little force',
    askedBy: cutN.askedBy,
  })
  const tensile = holdingStrength(design)
  if (!tensile.ok) return [unknown(requirement, tensile.because)]
  const asked = ask(cutStrength, {
    barDiameterMm: design.shackle.barDiameter.nominalMm,
    tensileMPa: tensile.tensileMPa,
  })
  if (!asked.ok) return [unknown(requirement, asked.because)]
  const { cutN: value, lowN, highN } = asked.output
  return [
    finding(requirement, {
      predicted: { value: value / 1000, low: lowN / 1000, high: highN / 1000 },
      evidence: asked.evidence,
      remedy: 'Take a thicker shackle or temper harder.',
    }),
  ]
}

function twistFindings(context: StepContext): Finding[] {
  const { design } = context
  const { twistNm } = design.requirements
  if (twistNm === undefined) return []
  const requirement = requirementOf(context, 'prove', 'twist', {
    title: 'Twist on the shackle (estimate)',
    sense: 'at-least',
    limit: twistNm.limit,
    unit: 'N·m',
    consequence: 'the shackle is twisted off the body',
    askedBy: twistNm.askedBy,
  })
  const tensile = holdingStrength(design)
  if (!tensile.ok) return [unknown(requirement, tensile.because)]
  const { shackle, body } = design
  const asked = ask(twistStrength, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    legSpacingMm: 2 * body.legAxisToBarrelAxis.nominalMm,
    freeLengthMm: Math.max(0, shackle.toeLegMm - shackle.notch.fromToeEndMm - body.crossBoreFromTopMm),
    tensileMPa: tensile.tensileMPa,
  })
  if (!asked.ok) return [unknown(requirement, asked.because)]
  return [
    finding(requirement, {
      predicted: { value: asked.output.twistNm },
      evidence: asked.evidence,
      remedy: `Weakest: ${asked.output.weakestLink === 'leg-bending' ? 'the legs bend out' : 'the legs are sheared'}. Take a thicker shackle, shorter free legs, or temper harder.`,
    }),
  ]
}

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
