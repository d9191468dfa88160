import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { quenchOil, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { Refusal } from '../issue.ts'
import { compositionField } from '../materials/composition.ts'
import { severityLecture, severityMeasured, severityRemembered } from '../materials/quench-severity.ts'
import { card42CrMo4 } from '../materials/steel-sources.ts'
import { steelField } from '../materials/steels.ts'
import { choice, count, list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { astmA255, band42CrMo4 } from './as-quenched.ts'
import { andrews1965, msByAndrews1965 } from './critical-points.ts'
import { cengelCylinder } from './cylinder-transient.ts'
import { centreOfRound } from './equivalent-cooling.ts'
import { DERIVED } from './equivalent-jominy.ts'
import { hodgeOrehoski, MARTENSITE_SHARES, martensiteByHardness } from './half-martensite.ts'
import { ROCKWELL_C_FROM, SOFT } from './hardenability.ts'
import { quenchFields, severityAsked } from './quench-fields.ts'
import { crackRisk, distortionRisk, quenchRiskPractice, RISKS } from './quench-risk.ts'
import { quenchedSection, type SectionPlace } from './section-hardness.ts'

const sheet42CrMo4Depth = source({
  id: 'sheet.42crmo4-depth',
  status: 'handbook',
  citation: 'Data sheets of two steelmakers for 42CrMo4: how deep it hardens',
  place: 'through-hardens in oil to about 60 mm; martensitic structure in oil to about 22 mm',
})

/** How a calculation asks for a round, its steel and its bath. */
export const sectionFields = {
  steel: steelField(),
  composition: compositionField([0.1, 0.7]).optional(),
  diameterMm: quantity('D', 'mm', 'Diameter of the round', { min: 0.5, max: 500, trusted: [7, 145] }),
  ...quenchFields,
  points: count('Places from centre to surface', { min: 3, max: 41 }).default(11),
}

/** Shares of the radius from the centre to the surface. */
export const radiusShares = (points: number) => Array.from({ length: points }, (_, i) => i / (points - 1))

const hrcField = (title: string) => quantity(null, 'HRC', title)

/** Hardness over the section of a round as it comes out of the quench, with the band of the steel's analyses. */
export const quenchSection = calculation({
  id: 'heat.quench-section',
  title: 'Hardness over the section out of the quench',
  summary:
    'As-quenched hardness from the centre to the surface of a round in a bath, with the band that the limits of the analysis leave, and signs of cracking and distortion.',
  equation: String.raw`H(\rho) = H_{x(\rho)}, \quad t_{1/2}^{bar}(x) = t_{1/2}^{round}(H D, \rho)`,
  assumes: [
    'heated and held so that all carbon is dissolved; austenite grain size 7',
    'the band joins the leanest with the leanest and the richest with the richest element: real heats lie closer',
    'surface and mid-radius are derived by conduction: only centres are published',
  ],
  sources: [
    astmA255,
    centreOfRound,
    cengelCylinder,
    severityLecture,
    severityMeasured,
    severityRemembered,
    hodgeOrehoski,
    andrews1965,
    quenchRiskPractice,
    card42CrMo4,
  ],
  cautions: [quenchOil, strengthIsEstimated],
  input: z.strictObject(sectionFields),
  output: z.strictObject({
    severityPerInch: quantity('H', '1/in', 'Severity of quench'),
    idealDiameterMm: quantity('D_I', 'mm', 'Ideal diameter of the analysis'),
    msC: quantity('M_s', '°C', 'Martensite begins to form'),
    surfaceHrc: hrcField('Surface'),
    surfaceLowHrc: hrcField('Surface, leanest analysis').optional(),
    surfaceHighHrc: hrcField('Surface, richest analysis').optional(),
    midHrc: hrcField('Mid-radius'),
    midLowHrc: hrcField('Mid-radius, leanest analysis').optional(),
    midHighHrc: hrcField('Mid-radius, richest analysis').optional(),
    centreHrc: hrcField('Centre'),
    centreLowHrc: hrcField('Centre, leanest analysis').optional(),
    centreHighHrc: hrcField('Centre, richest analysis').optional(),
    centreMartensite: choice('Martensite at the centre', MARTENSITE_SHARES),
    section: list(
      'From centre to surface',
      z.strictObject({
        radiusMm: quantity('r', 'mm', 'Radius'),
        distanceMm: quantity('x', 'mm', 'Place on the end-quench bar that cools alike'),
        hrc: hrcField('Hardness'),
        lowHrc: hrcField('Leanest analysis').optional(),
        highHrc: hrcField('Richest analysis').optional(),
        martensite: choice('Martensite', MARTENSITE_SHARES),
      }),
      { max: 41 },
    ),
    crackRisk: choice('Risk of cracking', RISKS),
    crackReasons: list('Speaking for it', text('Reason', { max: 300 }), { min: 0, max: 5 }),
    distortionRisk: choice('Risk of distortion', RISKS),
    distortionReasons: list('Speaking for it', text('Reason', { max: 300 }), { min: 0, max: 5 }),
  }),
  examples: [
    {
      title: '42CrMo4, 10 mm in oil: as hard as the quenched end of its band, 53 to 61 HRC at 1.5 mm',
      source: band42CrMo4,
      input: { steel: '42CrMo4', diameterMm: 10, medium: 'oil', agitation: 'good' },
      output: { surfaceHrc: 57 },
      tolerance: { absolute: 4 },
      reason: 'half the band',
    },
    {
      title: '42CrMo4 in oil through-hardens to about 60 mm: more than half martensite at the centre',
      source: sheet42CrMo4Depth,
      input: { steel: '42CrMo4', diameterMm: 60, medium: 'oil', agitation: 'moderate' },
      output: { centreMartensite: 'more than half' },
    },
    {
      title: '42CrMo4 in oil is martensitic to about 22 mm: more than half at the centre',
      source: sheet42CrMo4Depth,
      input: { steel: '42CrMo4', diameterMm: 22, medium: 'oil', agitation: 'moderate' },
      output: { centreMartensite: 'more than half' },
    },
  ],
  run({ points, composition, ...asked }, report) {
    const severityPerInch = severityAsked(asked, report)
    if (typeof severityPerInch !== 'number') return severityPerInch
    const { steel, diameterMm } = asked
    // The named places come first, then the profile; one pass over the conduction serves both.
    const section = quenchedSection(
      { steel, diameterMm, severityPerInch, composition, radiusShares: [1, 0.5, 0, ...radiusShares(points)] },
      report,
    )
    if (section instanceof Refusal) return section
    const [surface, mid, centre, ...profile] = section.places
    if (surface === undefined || mid === undefined || centre === undefined)
      throw new Error('a section has three places')
    const { C } = section.composition
    report.notice(DERIVED)
    if (centre.hrc < ROCKWELL_C_FROM) report.notice(SOFT)
    const crack = crackRisk(section.composition, severityPerInch)
    const distortion = distortionRisk(section.composition, severityPerInch, section.lagRatio)
    return {
      severityPerInch,
      idealDiameterMm: section.idealDiameterMm,
      msC: msByAndrews1965(section.composition),
      ...named('surface', surface),
      ...named('mid', mid),
      ...named('centre', centre),
      centreMartensite: martensiteByHardness(C, centre.hrc),
      section: profile.map(({ radiusShare, distanceMm, hrc, lowHrc, highHrc }) => ({
        radiusMm: (radiusShare * diameterMm) / 2,
        distanceMm,
        hrc,
        ...(lowHrc === undefined ? {} : { lowHrc }),
        ...(highHrc === undefined ? {} : { highHrc }),
        martensite: martensiteByHardness(C, hrc),
      })),
      crackRisk: crack.level,
      crackReasons: [...crack.reasons],
      distortionRisk: distortion.level,
      distortionReasons: [...distortion.reasons],
    }
  },
  working({ input: { diameterMm }, output }) {
    const centre = output.section[0]
    return [
      {
        finds: 'Place on the end-quench bar that cools as the centre, by equal half-temperature time',
        formula: 't_{1/2}^{bar}(x) = t_{1/2}^{round}(H D, 0)',
        filled: String.raw`H D = ${texNumber((output.severityPerInch * diameterMm) / 25.4)} \;\Rightarrow\; x = ${texQuantity(centre?.distanceMm ?? 0, 'mm')}`,
      },
      {
        finds: 'Hardness there on the end-quench curve of the analysis (ASTM A255)',
        formula: 'H_x = H_0 / d_x(D_I)',
        filled: String.raw`D_I = ${texQuantity(output.idealDiameterMm, 'mm')} \;\Rightarrow\; H_x = ${texQuantity(output.centreHrc, 'HRC')}`,
      },
    ]
  },
})

type Named<K extends string> = { [P in `${K}Hrc`]: number } & { [P in `${K}LowHrc` | `${K}HighHrc`]?: number }

/** The three figures of a named place under its own field names. */
function named<K extends 'surface' | 'mid' | 'centre'>(place: K, { hrc, lowHrc, highHrc }: SectionPlace): Named<K> {
  // The keys are built from K; the type checker cannot follow a computed key.
  return {
    [`${place}Hrc`]: hrc,
    ...(lowHrc === undefined ? {} : { [`${place}LowHrc`]: lowHrc }),
    ...(highHrc === undefined ? {} : { [`${place}HighHrc`]: highHrc }),
  } as Named<K>
}
