import type { Evidence } from '../finding.ts'
import { cutStrength } from '../shackle/cut-strength.ts'
import { pullStrength } from '../shackle/pull-strength.ts'
import { twistStrength } from '../shackle/twist-strength.ts'
import { ask } from './ask.ts'
import { engagementMm } from './chains/detent-chains.ts'
import type { Design } from './design.ts'
import { halfNotchMm } from './notch.ts'
import { holdingStrength } from './parts.ts'

/** Where a lock gives way under a load, by the calculation that says so. */
export type WeakLink =
  | 'net-section'
  | 'notch-bearing'
  | 'ball-shear'
  | 'lip-shear'
  | 'body-wall'
  | 'leg-bending'
  | 'leg-shear'
  | 'leg-cut'

/** `the leg breaks at the notch`. */
export const weakLinkWords: Readonly<Record<WeakLink, string>> = {
  'net-section': 'the leg breaks at the notch',
  'notch-bearing': 'the ball ploughs through the notch',
  'ball-shear': 'the ball is sheared',
  'lip-shear': 'the end of the leg below the notch shears off',
  'body-wall': 'the ball ploughs into the wall of the body',
  'leg-bending': 'the legs bend out sideways',
  'leg-shear': 'the legs are sheared at the body',
  'leg-cut': 'one leg is cut across, the whole bar',
}

export const LOADS = ['pull', 'twist', 'cut'] as const
export type Load = (typeof LOADS)[number]

export type StrengthEstimate =
  | {
      readonly ok: true
      /** Newton; newton metre for the twist. */
      readonly value: number
      readonly low?: number
      readonly high?: number
      readonly weakest: WeakLink
      readonly evidence: Evidence
    }
  | { readonly ok: false; readonly because: string }

/** What a lock of nominal sizes holds against each load, and where it gives way first: estimates, tests decide. */
export function strengthEstimates(design: Design): Readonly<Record<Load, StrengthEstimate>> {
  const strength = holdingStrength(design)
  if (!strength.ok) return { pull: strength, twist: strength, cut: strength }
  const { tensileMPa } = strength
  return { pull: pull(design, tensileMPa), twist: twist(design, tensileMPa), cut: cut(design, tensileMPa) }
}

function pull(design: Design, tensileMPa: number): StrengthEstimate {
  const { shackle, ball, body } = design
  const asked = ask(pullStrength, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    notchDepthMm: shackle.notch.depth.nominalMm,
    ballDiameterMm: ball.diameter.nominalMm,
    legsHeld: shackle.notch.legs === 'both' ? 2 : 1,
    tensileMPa,
    engagementMm: engagementMm(design),
    notchToEndMm: shackle.notch.fromToeEndMm - halfNotchMm(shackle.notch),
    ...(ball.tensileMPa === undefined ? {} : { ballTensileMPa: ball.tensileMPa }),
    ...(body.yieldMPa === undefined ? {} : { bodyYieldMPa: body.yieldMPa, bodyWallMm: bearingWallMm(design) }),
  })
  if (!asked.ok) return asked
  return { ok: true, value: asked.output.pullN, weakest: asked.output.weakestLink, evidence: asked.evidence }
}

/** Steel above a ball that it is pulled against: from the bore of the barrel to that of the leg, mm. */
export function bearingWallMm({ body, shackle }: Design): number {
  const leg = shackle.notch.legs === 'both' && body.heelBore.diameter.nominalMm > body.toeBore.diameter.nominalMm
  const bore = leg ? body.heelBore : body.toeBore
  return body.legAxisToBarrelAxis.nominalMm - (bore.diameter.nominalMm + body.barrelBore.diameter.nominalMm) / 2
}

function twist({ shackle, body }: Design, tensileMPa: number): StrengthEstimate {
  const asked = ask(twistStrength, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    legSpacingMm: 2 * body.legAxisToBarrelAxis.nominalMm,
    freeLengthMm: Math.max(0, shackle.toeLegMm - shackle.notch.fromToeEndMm - body.crossBoreFromTopMm),
    tensileMPa,
  })
  if (!asked.ok) return asked
  return { ok: true, value: asked.output.twistNm, weakest: asked.output.weakestLink, evidence: asked.evidence }
}

function cut({ shackle }: Design, tensileMPa: number): StrengthEstimate {
  const asked = ask(cutStrength, { barDiameterMm: shackle.barDiameter.nominalMm, tensileMPa })
  if (!asked.ok) return asked
  const { cutN, lowN, highN } = asked.output
  return { ok: true, value: cutN, low: lowN, high: highN, weakest: 'leg-cut', evidence: asked.evidence }
}
