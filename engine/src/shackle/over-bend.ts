import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery } from '../caution.ts'
import { refuse } from '../issue.ts'
import { count, quantity } from '../quantity.ts'
import { type BarBend, bendAndRelease, gardinerCubic, plasticBending } from './section-bending.ts'
import { bendFields, SHARP_BEND, sharpBendNotice } from './springback.ts'

/** The sharpest tool that is considered, mm. */
const SHARPEST_MM = 0.01
/** The tool radius is found to this, mm: far finer than any tool is ground. */
const TOLERANCE_MM = 1e-9
/** Halvings at most; the widest bracket a schema admits takes 44. */
const CAP = 100

export type ToolRadius =
  | { readonly found: true; readonly toolRadiusMm: number; readonly halvings: number }
  /** Even the sharpest tool leaves a wider bend than wanted; or the search did not close in. */
  | { readonly found: false; readonly because: 'out-of-reach' | 'not-converged'; readonly sharpestMm: number }

/**
 * Tool radius whose bend, once released, has the wanted inside radius.
 *
 * The curvature that is kept grows with the curvature at the tool, so there is one answer or none. It lies between the
 * sharpest tool and the wanted radius itself; the bracket is halved until it is narrower than 1e-9 mm, 100 times at most.
 */
export function toolRadiusFor({
  wantedRadiusMm,
  ...bar
}: Omit<BarBend, 'toolRadiusMm'> & { wantedRadiusMm: number }): ToolRadius {
  const wanted = 1 / (wantedRadiusMm + bar.depthMm / 2)
  const keeps = (toolRadiusMm: number) => bendAndRelease({ ...bar, toolRadiusMm }).finalCurvaturePerMm
  let [low, high] = [SHARPEST_MM, wantedRadiusMm]
  const sharpest = keeps(low)
  if (!(sharpest >= wanted))
    return { found: false, because: 'out-of-reach', sharpestMm: sharpest > 0 ? 1 / sharpest - bar.depthMm / 2 : 0 }
  for (let halvings = 0; halvings <= CAP; halvings++) {
    const middle = low + (high - low) / 2
    if (high - low <= TOLERANCE_MM) return { found: true, toolRadiusMm: middle, halvings }
    if (keeps(middle) >= wanted) low = middle
    else high = middle
  }
  return { found: false, because: 'not-converged', sharpestMm: SHARPEST_MM }
}

/** What to say when no tool gives the wanted radius. */
export function noTool({ because, sharpestMm }: ToolRadius & { found: false }, path: string, value: number) {
  return because === 'out-of-reach'
    ? refuse({
        path,
        code: 'out-of-reach',
        message:
          'No tool bends this bar so far that it keeps this radius: it springs back too much. Take a softer or a thicker bar, or a wider bend.',
        value,
        ...(sharpestMm > 0
          ? { allowed: `inside radius above ${Number(sharpestMm.toPrecision(4))} mm for this bar` }
          : {}),
      })
    : refuse({
        path,
        code: 'not-converged',
        message: 'The search for the tool radius did not close in. Check the figures of the bar.',
        value,
      })
}

/** The tool that leaves the wanted bend after springback. */
export const overBend = calculation({
  id: 'shackle.over-bend',
  title: 'Tool for a wanted bend',
  summary: 'Radius of the tool, and the angle to bend to, so that radius and angle are right after springback.',
  equation: String.raw`R_f(R) = R_w, \quad \alpha_t = \alpha\,\frac{\rho_f}{\rho}`,
  assumes: [
    'the metal yields at σ_y and does not harden; a hardening bar needs a sharper tool',
    'plane sections; neutral axis at mid depth; radii are at the inside',
    'the length of the bend along mid depth stays what it is when the tool lets go',
  ],
  sources: [plasticBending, gardinerCubic],
  cautions: [movingMachinery],
  input: z.strictObject({
    ...bendFields,
    wantedRadiusMm: quantity('R_w', 'mm', 'Inside radius wanted after release', { min: 0.02, max: 10_000 }),
    wantedAngleDeg: quantity(String.raw`\alpha`, '°', 'Angle wanted after release', {
      min: 1,
      max: 360,
      help: '180 for a shackle, which is taken when left out',
    }).optional(),
  }),
  output: z.strictObject({
    toolRadiusMm: quantity('R', 'mm', 'Tool radius'),
    toolAngleDeg: quantity(String.raw`\alpha_t`, '°', 'Angle to bend to'),
    keptPercent: quantity(null, '%', 'Share of the curvature that is kept'),
    releasedRadiusMm: quantity('R_f', 'mm', 'Inside radius after release'),
    halvings: count('Halvings of the bracket'),
  }),
  examples: [
    {
      title: '20-gauge sheet, 40 ksi: 0.531 in after release wants a 0.5 in tool, 90° about 95.3° (textbook example)',
      source: gardinerCubic,
      input: {
        section: 'rectangular',
        depthMm: 0.91186,
        wantedRadiusMm: 13.487,
        wantedAngleDeg: 90,
        yieldMPa: 275.79,
        elasticMPa: 199_948,
      },
      output: { toolRadiusMm: 12.7, toolAngleDeg: 95.3 },
      tolerance: { relative: 0.005 },
      reason: 'the book puts the inside radius where the cubic means the radius at mid depth, half a sheet apart',
    },
  ],
  working:
    'The tool radius is found by halving the bracket between the sharpest tool and the wanted radius until it is narrower than a billionth of a millimetre; each trial bends and releases the bar as shackle.springback does.',
  run({ wantedRadiusMm, wantedAngleDeg = 180, ...bar }, report) {
    const tool = toolRadiusFor({ ...bar, wantedRadiusMm })
    if (!tool.found) return noTool(tool, 'wantedRadiusMm', wantedRadiusMm)
    const { toolRadiusMm, halvings } = tool
    if (toolRadiusMm < SHARP_BEND * bar.depthMm) report.notice(sharpBendNotice)
    const { keptShare, finalCurvaturePerMm } = bendAndRelease({ ...bar, toolRadiusMm })
    return {
      toolRadiusMm,
      toolAngleDeg: wantedAngleDeg / keptShare,
      keptPercent: keptShare * 100,
      releasedRadiusMm: 1 / finalCurvaturePerMm - bar.depthMm / 2,
      halvings,
    }
  },
})
