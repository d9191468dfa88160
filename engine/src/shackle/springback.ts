import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { choice, quantity } from '../quantity.ts'
import {
  BAR_SECTIONS,
  bendAndRelease,
  gardinerCubic,
  plasticBending,
  plasticModulus,
  punchDesign,
  secondMoment,
} from './section-bending.ts'

/** Below this ratio of inside radius to depth the neutral axis is no longer at mid depth. */
export const SHARP_BEND = 2

export const sharpBendNotice =
  'The inside radius is below twice the depth: there the neutral axis moves inward and the metal hardens, so the springback is a first setting to correct on the first bends.'

/** The bar and its metal, asked for alike by every bending calculation. */
export const bendFields = {
  section: choice('Section', BAR_SECTIONS, { round: 'Round', rectangular: 'Rectangular' }),
  depthMm: quantity('d', 'mm', 'Depth in the plane of bending', {
    min: 0.1,
    max: 100,
    help: 'Diameter of a round bar, thickness of a flat one',
  }),
  yieldMPa: quantity(String.raw`\sigma_y`, 'MPa', 'Yield strength as bent', {
    min: 1,
    max: 5000,
    trusted: [100, 1500],
  }),
  elasticMPa: quantity('E', 'MPa', 'Elastic modulus', { min: 10_000, max: 500_000 }),
}

/** What a bent bar keeps of its bend when the tool lets go. */
export const springback = calculation({
  id: 'shackle.springback',
  title: 'Springback of a bend',
  summary: 'Radius after the tool lets go, and the moment that held the bar, from the exact elastic–plastic section.',
  equation: String.raw`\frac{1}{\rho_f} = \frac{1}{\rho} - \frac{M}{E\,I}, \quad M = \int \sigma\,y\,\mathrm{d}A`,
  assumes: [
    'the metal yields at σ_y and does not harden; a hardening bar springs back further',
    'plane sections; neutral axis at mid depth; the bar lies on the tool; radii are at the inside',
    'a bar that does not yield straightens: its curvature is 0 and no final radius is given',
  ],
  sources: [plasticBending, plasticModulus, punchDesign, gardinerCubic],
  cautions: [movingMachinery],
  input: z.strictObject({
    ...bendFields,
    toolRadiusMm: quantity('R', 'mm', 'Radius of the tool, inside of the bend', { min: 0.01, max: 10_000 }),
  }),
  output: z.strictObject({
    finalRadiusMm: quantity('R_f', 'mm', 'Inside radius after release', {
      help: 'Absent when nothing yielded: the bar is straight again',
    }).optional(),
    finalCurvaturePerMm: quantity(String.raw`1/\rho_f`, '1/mm', 'Curvature of the mid depth after release'),
    keptPercent: quantity(String.raw`\rho/\rho_f`, '%', 'Share of the curvature that is kept'),
    momentNm: quantity('M', 'N·m', 'Moment at the tool, round bar').optional(),
    momentNmPerMm: quantity('M', 'N·m/mm', 'Moment at the tool per mm of width, flat bar').optional(),
    elasticCoreMm: quantity('2e', 'mm', 'Depth of the core that stayed elastic'),
    elastic: z.boolean().meta({ title: 'Nothing yielded' }),
  }),
  examples: [
    {
      title: '12 mm round at 400 MPa in a tight bend: σ_y·d³/6 = 115.2 N·m (plastic modulus of a circle)',
      source: plasticModulus,
      input: { section: 'round', depthMm: 12, toolRadiusMm: 6, yieldMPa: 400, elasticMPa: 210_000 },
      output: { momentNm: 115.2, elastic: false },
      tolerance: { relative: 1e-4 },
      reason: 'the core that stays elastic takes a hundred-thousandth off the fully plastic moment',
    },
    {
      title: '20-gauge sheet, 0.5 in, 40 ksi: Rf 0.531 in (textbook example)',
      source: gardinerCubic,
      input: {
        section: 'rectangular',
        depthMm: 0.91186,
        toolRadiusMm: 12.7,
        yieldMPa: 275.79,
        elasticMPa: 199_948,
      },
      output: { finalRadiusMm: 13.487 },
      tolerance: { relative: 0.005 },
      reason: 'the book puts the inside radius where the cubic means the radius at mid depth, half a sheet apart',
    },
  ],
  run(input, report) {
    const { section, depthMm, toolRadiusMm } = input
    const { coreShare, keptShare, finalCurvaturePerMm, moment } = bendAndRelease(input)
    if (toolRadiusMm < SHARP_BEND * depthMm) report.notice(sharpBendNotice)
    const elastic = keptShare === 0
    const newtonMetres = moment / 1000 // N·mm → N·m
    return {
      ...(elastic ? {} : { finalRadiusMm: 1 / finalCurvaturePerMm - depthMm / 2 }),
      finalCurvaturePerMm,
      keptPercent: keptShare * 100,
      ...(section === 'round' ? { momentNm: newtonMetres } : { momentNmPerMm: newtonMetres }),
      elasticCoreMm: Math.min(1, coreShare) * depthMm,
      elastic,
    }
  },
  working({ input: { section, depthMm: d, toolRadiusMm: R, yieldMPa: Y, elasticMPa: E }, output }) {
    const n = texNumber
    const rho = R + d / 2
    const moment = (output.momentNm ?? output.momentNmPerMm ?? 0) * 1000
    const unit = section === 'round' ? 'N·mm' : 'N·mm/mm'
    return [
      {
        finds: 'Radius of the mid depth at the tool, and the core that stays elastic',
        formula: String.raw`\rho = R + \frac{d}{2}, \quad e = \frac{\sigma_y\,\rho}{E}`,
        filled: String.raw`\rho = ${n(R)} + \frac{${n(d)}}{2} = ${texQuantity(rho, 'mm')}, \quad e = \frac{${n(Y)} \cdot ${n(rho)}}{${n(E, 6)}} = ${texQuantity((Y * rho) / E, 'mm')}`,
      },
      {
        finds: 'Moment at the tool',
        formula: output.elastic
          ? String.raw`M = \frac{E\,I}{\rho}`
          : section === 'round'
            ? String.raw`M = \frac{\sigma_y}{e}\left[\frac{c^4}{2}\arcsin\frac{e}{c} - \frac{e}{2}\sqrt{c^2-e^2}\,(c^2-2e^2)\right] + \frac{4\sigma_y}{3}(c^2-e^2)^{3/2}, \quad c = \frac{d}{2}`
            : String.raw`M = \sigma_y\left(c^2 - \frac{e^2}{3}\right), \quad c = \frac{d}{2}`,
        filled: `M = ${texQuantity(moment, unit)}`,
      },
      {
        finds: 'Curvature after release',
        formula: String.raw`\frac{1}{\rho_f} = \frac{1}{\rho} - \frac{M}{E\,I}`,
        filled: String.raw`\frac{1}{\rho_f} = \frac{1}{${n(rho)}} - \frac{${n(moment)}}{${n(E, 6)} \cdot ${n(secondMoment(section, d))}} = ${texQuantity(output.finalCurvaturePerMm, '1/mm')}${
          output.finalRadiusMm === undefined
            ? ''
            : String.raw`, \quad R_f = \rho_f - \frac{d}{2} = ${texQuantity(output.finalRadiusMm, 'mm')}`
        }`,
      },
    ]
  },
})
