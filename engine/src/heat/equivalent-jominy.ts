import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { quenchOil } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { severityLecture, severityMeasured, severityRemembered } from '../materials/quench-severity.ts'
import { quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { cengelCylinder } from './cylinder-transient.ts'
import { centreOfRound, equivalentPlaces, LAST_DISTANCE_MM } from './equivalent-cooling.ts'
import { quenchFields, severityAsked } from './quench-fields.ts'

const callister = source({
  id: 'callister.round-equivalents',
  status: 'handbook',
  citation:
    'W. D. Callister, Materials Science and Engineering, 8th edition, example 11.1 and an exercise on 75 mm rounds',
  place: 'centre of 50 mm in moderately agitated water: 9.5 mm; of 75 mm in mildly agitated water: 17 mm (11/16 in)',
})
const roundsArticle = source({
  id: 'article.end-quench-rounds',
  status: 'handbook',
  citation: 'Article on the end-quench test with a chart of bar diameter against distance for several severities',
  place: '51 mm in still oil of H = 0.3: 19 mm; 50 mm in still water: about 12 mm',
})

/** Where on the end-quench bar a place in a round cools alike. */
export const equivalentJominy = calculation({
  id: 'heat.equivalent-jominy',
  title: 'Place on the end-quench bar that cools alike',
  summary:
    'The distance from the quenched end that cools as the surface, the mid-radius and the centre of a round in a bath do.',
  equation: String.raw`t_{1/2}^{round}(H D, \rho) = t_{1/2}^{bar}(x), \quad H = \frac{h}{2k}`,
  assumes: [
    'places that reach half temperature in the same time harden alike',
    'long round, bath of one severity; the vapour blanket is averaged into it',
    'only centres are published: surface and mid-radius are derived by conduction from them',
  ],
  sources: [
    centreOfRound,
    callister,
    roundsArticle,
    cengelCylinder,
    severityLecture,
    severityMeasured,
    severityRemembered,
  ],
  cautions: [quenchOil],
  input: z.strictObject({
    diameterMm: quantity('D', 'mm', 'Diameter of the round', { min: 0.5, max: 500, trusted: [7, 145] }),
    ...quenchFields,
  }),
  output: z.strictObject({
    severityPerInch: quantity('H', '1/in', 'Severity of quench'),
    severityPerMm: quantity(null, '1/mm', 'The same per millimetre'),
    surfaceMm: quantity(null, 'mm', 'Distance that cools as the surface'),
    midRadiusMm: quantity(null, 'mm', 'Distance that cools as the mid-radius'),
    centreMm: quantity('x', 'mm', 'Distance that cools as the centre'),
    lagRatio: quantity(null, '', 'Half-temperature time at the centre over that at the surface').optional(),
  }),
  examples: [
    {
      title: '50 mm in moderately agitated water, centre: 9.5 mm (example 11.1)',
      source: callister,
      input: { diameterMm: 50, medium: 'water', agitation: 'moderate' },
      output: { centreMm: 9.5 },
      tolerance: { absolute: 1 },
      reason: 'read from a chart; the severity of moderate agitation is itself a range',
    },
    {
      title: '75 mm in mildly agitated water, centre: 17 mm (exercise)',
      source: callister,
      input: { diameterMm: 75, medium: 'water', agitation: 'mild' },
      output: { centreMm: 17 },
      tolerance: { absolute: 1.5 },
      reason: 'read from a chart to a sixteenth of an inch',
    },
    {
      title: '51 mm in still oil of H = 0.3, centre: 19 mm (article)',
      source: roundsArticle,
      input: { diameterMm: 51, medium: 'oil', agitation: 'none', severityPerInch: 0.3 },
      output: { centreMm: 19 },
      tolerance: { absolute: 1 },
      reason: 'read from a chart',
    },
    {
      title: '2.3 in in oil, centre: 12/16 in (row 12, oil)',
      source: centreOfRound,
      input: { diameterMm: 58.4, medium: 'oil', agitation: 'moderate' },
      output: { centreMm: 19 },
      tolerance: { absolute: 1.6 },
      reason: 'diameters printed to 0.1 in, agitation not stated',
    },
  ],
  run({ diameterMm, ...bath }, report) {
    const severity = severityAsked(bath, report)
    if (typeof severity !== 'number') return severity
    const [surface, mid, centre] = equivalentPlaces(severity, diameterMm, [1, 0.5, 0])
    const [surfaceMm, midRadiusMm, centreMm] = [surface?.distanceMm, mid?.distanceMm, centre?.distanceMm]
    if (surfaceMm === undefined || midRadiusMm === undefined || centreMm === undefined) return tooThick(diameterMm)
    report.notice(DERIVED)
    return {
      severityPerInch: severity,
      severityPerMm: severity / 25.4,
      surfaceMm,
      midRadiusMm,
      centreMm,
      ...(surface === undefined || centre === undefined || surface.halfTimeMm2 === 0
        ? {}
        : { lagRatio: centre.halfTimeMm2 / surface.halfTimeMm2 }),
    }
  },
  working({ input: { diameterMm }, output }) {
    return [
      {
        finds: 'Biot number of the quench',
        formula: String.raw`Bi = \frac{h R}{k} = H D`,
        filled: String.raw`Bi = ${texNumber(output.severityPerMm)} \cdot ${texNumber(diameterMm)} = ${texNumber(output.severityPerMm * diameterMm)}`,
      },
      {
        finds: 'Distance with the half-temperature time of the centre',
        formula: 't_{1/2}^{bar}(x) = t_{1/2}^{round}(Bi, 0)',
        filled: `x = ${texQuantity(output.centreMm, 'mm')}`,
      },
    ]
  },
})

export const DERIVED =
  'Published are centres only; surface and mid-radius are derived from them by conduction. The centres published in three other places come back within about 1.6 mm.'

/** The refusal of a section whose core cools more slowly than the end-quench bar is measured. */
export function tooThick(diameterMm: number) {
  return refuse({
    path: 'diameterMm',
    code: 'out-of-reach',
    message: 'The core cools more slowly in this bath than any place of the end-quench bar that is measured.',
    value: diameterMm,
    allowed: `a section whose core cools as ${LAST_DISTANCE_MM} mm from the quenched end or faster; thinner, or a harsher bath`,
  })
}
