import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery, strengthIsEstimated } from '../caution.ts'
import { logNormalInterval } from '../numeric/normal-interval.ts'
import { normalCoverage } from '../numeric/normal-sources.ts'
import { list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { noTool, toolRadiusFor } from './over-bend.ts'
import { bendAndRelease, plasticBending } from './section-bending.ts'

const toeEntryModel = source({
  id: 'practice.toe-entry',
  status: 'common practice (no source)',
  citation:
    'The toe enters when spacing of the legs and distance of the bores differ by no more than the radial float of both legs; independent normal scatter, linearised at the nominal bend',
})

/** Below this spread, mm, every shackle is taken as alike: nothing on a bench tells them apart. */
const ALIKE_MM = 1e-9

/** The tool as set for the nominal bar, and how the leg stands. */
interface Setting {
  readonly toolRadiusMm: number
  /** Angle that the tool turns the bar, rad. */
  readonly toolAngleRad: number
  /** Straight leg from its tangent point to where it meets its bore, mm. */
  readonly legMm: number
  readonly elasticMPa: number
}

/**
 * Distance from the heel axis to the toe axis after release, mm. The bend keeps its length along mid depth; it opens in
 * radius and in angle, and the leg carries the angle outward.
 */
function spacingMm({ toolRadiusMm, toolAngleRad, legMm, elasticMPa }: Setting, depthMm: number, yieldMPa: number) {
  const bar = { section: 'round', depthMm, toolRadiusMm, yieldMPa, elasticMPa } as const
  const { keptShare, finalCurvaturePerMm } = bendAndRelease(bar)
  const angle = toolAngleRad * keptShare
  return keptShare === 0 ? 0 : (1 - Math.cos(angle)) / finalCurvaturePerMm + legMm * Math.sin(angle)
}

/** Central difference over a ten-thousandth of the value each way; the spacing is smooth there. */
function slope(f: (x: number) => number, at: number): number {
  const step = 1e-4 * at
  return (f(at + step) - f(at - step)) / (2 * step)
}

/** How many shackles find their second bore without help. */
export const toeEntry = calculation({
  id: 'shackle.toe-entry',
  title: 'Toe leg enters its bore',
  summary:
    'Share of shackles whose toe enters, from the scatter of yield strength, bar, press and bore distance, and who causes the rest.',
  equation: String.raw`P = \Phi\!\left(\frac{F - b}{\sigma}\right) - \Phi\!\left(\frac{-F - b}{\sigma}\right), \quad \sigma^2 = \sum_i \left(\frac{\partial s}{\partial x_i}\,\sigma_i\right)^2`,
  assumes: [
    'the tool is set so that the nominal bar comes out right; heel leg and toe leg use up the float of both bores',
    'contributions are independent and normal, each by its slope at the nominal bend',
    'bores and legs at the diameters given, square to the body; a leg that leans in its bore is not counted',
  ],
  sources: [toeEntryModel, plasticBending, normalCoverage],
  cautions: [movingMachinery, strengthIsEstimated],
  input: z.strictObject({
    barDiameterMm: quantity('d', 'mm', 'Bar diameter as bent', { min: 0.5, max: 100 }),
    barDiameterSigmaMm: quantity(String.raw`\sigma_d`, 'mm', 'Its standard deviation', { min: 0, max: 5 }),
    insideWidthMm: quantity('w', 'mm', 'Inside width wanted between the legs', { min: 0.1, max: 1000 }),
    legLengthMm: quantity('l', 'mm', 'Toe leg from its tangent point to its end', {
      min: 0,
      max: 1000,
      help: 'Without it the opening of the angle, which the leg carries outward, is left out',
    }).optional(),
    yieldMPa: quantity(String.raw`\sigma_y`, 'MPa', 'Yield strength as bent', {
      min: 1,
      max: 5000,
      trusted: [100, 1500],
    }),
    yieldSigmaMPa: quantity(String.raw`\sigma_Y`, 'MPa', 'Its standard deviation from bar to bar', {
      min: 0,
      max: 1000,
    }),
    elasticMPa: quantity('E', 'MPa', 'Elastic modulus', { min: 10_000, max: 500_000 }),
    pressSigmaMm: quantity(String.raw`\sigma_p`, 'mm', 'Standard deviation of the leg spacing from the press', {
      min: 0,
      max: 10,
    }),
    boreDistanceMm: quantity('D', 'mm', 'Distance of the bore axes', { min: 0.5, max: 1200 }),
    boreDistanceSigmaMm: quantity(String.raw`\sigma_D`, 'mm', 'Its standard deviation', { min: 0, max: 5 }),
    boreDiameterMm: quantity('B', 'mm', 'Toe bore', { min: 0.5, max: 120 }),
    heelBoreDiameterMm: quantity('B_h', 'mm', 'Heel bore', {
      min: 0.5,
      max: 120,
      help: 'Taken equal to the toe bore when left out',
    }).optional(),
    legDiameterMm: quantity('g', 'mm', 'Leg over its coating', { min: 0.5, max: 120 }),
  }),
  output: z.strictObject({
    entryPercent: quantity('P', '%', 'Shackles whose toe enters'),
    missesPerMillion: quantity(null, '', 'Shackles in a million to be set by hand'),
    sigmaSpacingMm: quantity(String.raw`\sigma_s`, 'mm', 'Standard deviation of the leg spacing'),
    sigmaMm: quantity(String.raw`\sigma`, 'mm', 'Standard deviation of spacing against bore distance'),
    biasMm: quantity('b', 'mm', 'Leg spacing less bore distance, nominal'),
    floatMm: quantity('F', 'mm', 'Radial float of both legs together'),
    spacingPerYieldMmPerMPa: quantity(null, 'mm/MPa', 'Change of spacing with yield strength'),
    spacingPerDiameter: quantity(null, 'mm/mm', 'Change of spacing with bar diameter'),
    shares: list(
      'Contributions, largest first',
      z
        .strictObject({ name: text('Contribution'), share: quantity(null, '', 'Share of the variance') })
        .meta({ title: 'Contribution' }),
      { min: 0, max: 4 },
    ),
  }),
  examples: [
    {
      title: 'only the press scatters, 0.1 mm, float 0.2 mm: two standard deviations, 95.45 % (normal distribution)',
      source: normalCoverage,
      input: {
        barDiameterMm: 8,
        barDiameterSigmaMm: 0,
        insideWidthMm: 26,
        legLengthMm: 40,
        yieldMPa: 450,
        yieldSigmaMPa: 0,
        elasticMPa: 210_000,
        pressSigmaMm: 0.1,
        boreDistanceMm: 34,
        boreDistanceSigmaMm: 0,
        boreDiameterMm: 8.3,
        legDiameterMm: 8.1,
      },
      output: { entryPercent: 95.45, sigmaSpacingMm: 0.1, floatMm: 0.2, biasMm: 0 },
      tolerance: { absolute: 0.005 },
      reason: 'printed to two decimals',
    },
  ],
  working:
    'The tool is set for the nominal bar as shackle.over-bend does; the spacing after release is differentiated by yield strength and by diameter with a central difference, variances are added with those of press and bores, and the normal probability of lying within the float is taken.',
  run(input, report) {
    const { barDiameterMm: d, insideWidthMm, yieldMPa, elasticMPa, legLengthMm: legMm = 0 } = input
    const wantedRadiusMm = insideWidthMm / 2
    const tool = toolRadiusFor({ section: 'round', depthMm: d, yieldMPa, elasticMPa, wantedRadiusMm })
    if (!tool.found) return noTool(tool, 'insideWidthMm', insideWidthMm)
    if (input.legLengthMm === undefined)
      report.notice('The opening of the angle is left out: give the length of the toe leg to have it counted.')
    const { toolRadiusMm } = tool
    const held = bendAndRelease({ section: 'round', depthMm: d, toolRadiusMm, yieldMPa, elasticMPa })
    const setting = { toolRadiusMm, toolAngleRad: Math.PI / held.keptShare, legMm, elasticMPa }
    const byYield = slope((y) => spacingMm(setting, d, y), yieldMPa)
    const byDiameter = slope((x) => spacingMm(setting, x, yieldMPa), d)
    const parts = [
      { name: 'Yield strength', sigmaMm: Math.abs(byYield) * input.yieldSigmaMPa },
      { name: 'Bar diameter', sigmaMm: Math.abs(byDiameter) * input.barDiameterSigmaMm },
      { name: 'Press', sigmaMm: input.pressSigmaMm },
      { name: 'Bore distance', sigmaMm: input.boreDistanceSigmaMm },
    ]
    const sigmaMm = Math.hypot(...parts.map((part) => part.sigmaMm))
    const biasMm = insideWidthMm + d - input.boreDistanceMm
    const heelBore = input.heelBoreDiameterMm ?? input.boreDiameterMm
    const floatMm = (input.boreDiameterMm + heelBore) / 2 - input.legDiameterMm
    // Float in the one bore does not help a leg that is thicker than the other.
    const enters = Math.min(input.boreDiameterMm, heelBore) > input.legDiameterMm
    if (!enters) report.notice('A leg is as thick as its bore or thicker: none enters, however it is bent.')
    const entry = enters ? entryProbability({ floatMm, biasMm, sigmaMm }) : 0
    return {
      entryPercent: entry * 100,
      missesPerMillion: (1 - entry) * 1e6,
      sigmaSpacingMm: Math.hypot(...parts.slice(0, 3).map((part) => part.sigmaMm)),
      sigmaMm,
      biasMm,
      floatMm,
      spacingPerYieldMmPerMPa: byYield,
      spacingPerDiameter: byDiameter,
      shares: sharesOf(parts, sigmaMm),
    }
  },
})

/** Shares of the variance, largest first; none when nothing scatters. */
function sharesOf(parts: readonly { readonly name: string; readonly sigmaMm: number }[], sigmaMm: number) {
  if (sigmaMm < ALIKE_MM) return []
  return parts
    .map((part) => ({ name: part.name, share: (part.sigmaMm / sigmaMm) ** 2 }))
    .sort((a, b) => b.share - a.share)
}

/** Normal probability that spacing and bore distance differ by no more than the float. */
function entryProbability({ floatMm, biasMm, sigmaMm }: { floatMm: number; biasMm: number; sigmaMm: number }): number {
  if (sigmaMm < ALIKE_MM) return Math.abs(biasMm) <= floatMm ? 1 : 0
  return Math.exp(logNormalInterval((-floatMm - biasMm) / sigmaMm, (floatMm - biasMm) / sigmaMm))
}
