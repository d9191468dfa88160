import { keyCodesAreSecret, movingMachinery } from '../../caution.ts'
import { space } from '../../codes/space.ts'
import { type Finding, finding, unknown } from '../../finding.ts'
import { interchange } from '../../mechanism/interchange.ts'
import { worstInterchange } from '../../mechanism/worst-interchange.ts'
import { ask, settingFrom, stated } from '../ask.ts'
import { openingSpec } from '../opening.ts'
import { remembered } from '../remember.ts'
import { handTime, requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Cuts the keys to their codes; the cuts themselves stand on the key cutter's sheet and nowhere else. */
export const cutKeys: StepPlanner = (context) => {
  const { design, minutesPerPiece } = context
  const { discs, values, stepDeg, rules } = design.mechanism
  const codes = ask(space, { discs, values, rules })
  return {
    instruction:
      'Cut from the key list of the lot, one code at a time; tag with the blind code; list and waste go back to the registrar.',
    settings: [
      stated('Cuts on a key', discs, ''),
      stated('Values of a cut', values, ''),
      stated('Angle between values', stepDeg, '°'),
      settingFrom(codes, { title: 'Codes in all', unit: '', pick: ({ total }) => total }),
      settingFrom(codes, { title: 'Codes the rules leave', unit: '', pick: ({ usable }) => usable }),
      stated('Codes this order needs', context.codesNeeded, ''),
    ],
    time: handTime(minutesPerPiece, 'keys'),
    record: ['Keys cut, keys spoiled', 'List returned to'],
    cautions: [keyCodesAreSecret, movingMachinery],
    findings: [...differFindings(context, codes), ...openingFindings(context)],
  }
}

function differFindings(
  context: StepContext,
  codes: ReturnType<typeof ask<typeof space.input, typeof space.output>>,
): Finding[] {
  const { design, codesNeeded } = context
  const asked = requirementOf(context, 'cut-keys', 'differs', {
    title: 'Usable codes of the mechanism',
    sense: 'at-least',
    limit: design.requirements.differs.limit,
    unit: '',
    consequence: 'the family may not be sold as having so many differs',
    askedBy: design.requirements.differs.askedBy,
  })
  const needed = requirementOf(context, 'cut-keys', 'codes-for-order', {
    title: 'Usable codes for the keys of this order',
    sense: 'at-least',
    limit: codesNeeded,
    unit: '',
    reference: Math.max(1, codesNeeded),
    consequence: 'codes would have to repeat',
    askedBy: 'No code is given twice',
  })
  const held = codesNeeded > 0 ? [asked, needed] : [asked]
  if (!codes.ok) return held.map((requirement) => unknown(requirement, codes.because))
  return held.map((requirement) =>
    finding(requirement, {
      predicted: { value: Number(codes.output.usable) },
      evidence: codes.evidence,
      remedy: 'Loosen a rule for codes, add a disc, or add a gate position.',
    }),
  )
}

function openingFindings(context: StepContext): Finding[] {
  const { design } = context
  const spec = openingSpec(design, 'widest')
  const { discs, rules } = design.mechanism
  const own = requirementOf(context, 'cut-keys', 'own-key', {
    title: 'The own key opens',
    sense: 'at-least',
    limit: design.requirements.ownKey.limit,
    unit: '',
    scale: 'missing-share',
    consequence: 'locks come back because their own key does not open them',
    askedBy: design.requirements.ownKey.askedBy,
  })
  const other = requirementOf(context, 'cut-keys', 'interchange', {
    title: 'The nearest other key opens',
    sense: 'at-most',
    limit: design.requirements.interchange.limit,
    unit: '',
    scale: 'logarithmic',
    consequence: 'a neighbour opens the lock',
    askedBy: design.requirements.interchange.askedBy,
  })
  const right = ask(interchange, {
    ...openingSpec(design, 'narrowest'),
    differences: Array.from({ length: discs }, () => 0),
  })
  const wrong = nearestKey(design, spec)
  const widen = 'Widen the gate, or hold gate and cut angles closer.'
  const narrow =
    rules.congruence === undefined
      ? 'Narrow the gate, hold gate and cut angles closer, or add a separation rule with modulus 2, which rules out a single disc one step off.'
      : 'Narrow the gate, or hold gate and cut angles closer.'
  return [
    right.ok
      ? finding(own, { predicted: { value: right.output.rocked }, evidence: right.evidence, remedy: widen })
      : unknown(own, right.because),
    wrong.ok
      ? finding(other, { predicted: { value: wrong.output.rocked }, evidence: wrong.evidence, remedy: narrow })
      : unknown(other, wrong.because),
  ]
}

const worst = remembered(worstInterchange)

/** The other key in use that opens most easily, over every difference that the separation rule leaves. */
function nearestKey({ mechanism }: StepContext['design'], spec: OpeningFigures) {
  const { discs, values, rules } = mechanism
  const found = worst(spec, { discs, values, rules })
  if (found === undefined) return { ok: false, because: 'No two codes of this mechanism differ.' } as const
  if (found.differences.length === 0)
    return {
      ok: false,
      because: 'The search for the nearest other key was given up: too many differences are alike.',
    } as const
  return ask(interchange, { ...spec, differences: [...found.differences] })
}

type OpeningFigures = ReturnType<typeof openingSpec>
