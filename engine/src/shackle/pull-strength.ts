import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { type Issue, refuse } from '../issue.ts'
import { choice, count, list, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import {
  ballShearAreaMm2,
  bearingN,
  firstYieldN,
  notchedSection,
  pinConnections,
  segmentPage,
  segmentTable,
  sharedFaceMm2,
  shearN,
  tensionForm,
  tensionN,
} from './strength.ts'

const barTension = source({
  id: 'geometry.bar-tension',
  status: 'common practice (no source)',
  citation: 'Tension of a plain round bar, π d²/4 times the tensile strength, by hand: 12 mm at 1400 MPa, 158.3 kN',
})

const LINKS = ['net-section', 'notch-bearing', 'ball-shear', 'lip-shear', 'body-wall'] as const
type Link = (typeof LINKS)[number]
const LINK_TITLES: Readonly<Record<Link, string>> = {
  'net-section': 'Leg breaks at the notch',
  'notch-bearing': 'Ball ploughs through the notch',
  'ball-shear': 'Ball is sheared',
  'lip-shear': 'End of the leg below the notch shears off',
  'body-wall': 'Ball ploughs into the wall of the body',
}
const linkField = (title: string) => choice(title, LINKS, LINK_TITLES)

/** Yield over tensile strength where only the tensile strength is known: the low end of quenched and tempered steel. */
const YIELD_RATIO = 0.8
const yieldRatio = source({
  id: 'practice.yield-of-tempered-steel',
  status: 'common practice (no source)',
  citation: 'Quenched and tempered steel yields at 0.8 of its tensile strength or above',
})

interface Input {
  readonly barDiameterMm: number
  readonly notchDepthMm: number
  readonly ballDiameterMm: number
  readonly tensileMPa: number
  readonly yieldMPa?: number | undefined
  readonly engagementMm?: number | undefined
  readonly ballTensileMPa?: number | undefined
  readonly notchToEndMm?: number | undefined
  readonly bodyWallMm?: number | undefined
  readonly bodyYieldMPa?: number | undefined
}

/** Every way a leg can let go that its figures allow to judge, N for one leg. */
function linksOf(input: Input): { link: Link; perLegN: number }[] {
  const { barDiameterMm: d, notchDepthMm: h, ballDiameterMm, tensileMPa: Rm } = input
  const {
    yieldMPa = YIELD_RATIO * Rm,
    engagementMm = h,
    ballTensileMPa,
    notchToEndMm,
    bodyWallMm,
    bodyYieldMPa,
  } = input
  const ball = { legDiameterMm: d, ballDiameterMm, engagementMm }
  const chord = 2 * Math.sqrt(h * (d - h))
  const only = (link: Link, perLegN: number | undefined) => (perLegN === undefined ? [] : [{ link, perLegN }])
  return [
    ...only('net-section', tensionN(notchedSection({ legDiameterMm: d, notchDepthMm: h }).areaMm2, Rm)),
    ...only('notch-bearing', bearingN(sharedFaceMm2(ball), yieldMPa)),
    ...only('ball-shear', ballTensileMPa && shearN(ballShearAreaMm2(ball), ballTensileMPa)),
    ...only('lip-shear', notchToEndMm && shearN(chord * notchToEndMm, Rm)),
    ...only('body-wall', bodyWallMm && bodyYieldMPa && bearingN(bodyWallMm * ballDiameterMm, bodyYieldMPa)),
  ]
}

/** What contradicts what in the figures of a leg. */
function contradictions(input: Input): Issue[] {
  const { barDiameterMm, notchDepthMm, ballDiameterMm, engagementMm, tensileMPa, yieldMPa } = input
  const { bodyWallMm, bodyYieldMPa } = input
  const over = (path: string, message: string, value: number, most: string): Issue[] => [
    { path, code: 'contradiction', message, value, allowed: `at most ${most}` },
  ]
  const deepest = Math.min(notchDepthMm, ballDiameterMm / 2)
  return [
    ...(notchDepthMm > 0.9 * barDiameterMm
      ? over('notchDepthMm', 'The notch all but cuts the leg in two.', notchDepthMm, `${0.9 * barDiameterMm} mm`)
      : []),
    ...(engagementMm !== undefined && engagementMm > deepest
      ? over(
          'engagementMm',
          'The ball cannot stand deeper than the notch, nor past its own middle.',
          engagementMm,
          `${deepest} mm`,
        )
      : []),
    ...(yieldMPa !== undefined && yieldMPa > tensileMPa
      ? over('yieldMPa', 'A steel yields before it breaks.', yieldMPa, `${tensileMPa} MPa`)
      : []),
    ...((bodyWallMm === undefined) !== (bodyYieldMPa === undefined)
      ? [
          {
            path: bodyWallMm === undefined ? 'bodyWallMm' : 'bodyYieldMPa',
            code: 'missing' as const,
            message: 'Wall and yield strength of the body belong together: give both, or neither.',
          },
        ]
      : []),
  ]
}

/** How far a pull on the shackle gets, and what lets go first. */
export const pullStrength = calculation({
  id: 'shackle.pull-strength',
  title: 'Pull on the shackle (estimate)',
  summary: 'Every way a notched leg and its ball can let go, the weakest link named, and the pull the shackle holds.',
  equation: String.raw`F = n \cdot \min_i F_i, \quad F_{net} = R_m\left(\frac{\pi d^2}{4} - A_{seg}\right)`,
  assumes: [
    'legs that are held share the pull alike; so the weaker way of one leg, times the legs, is what the shackle holds',
    'static pull, tough steel: a brittle one breaks at its notch far below',
    'rules for pins in plates carried over to a ball in a notch, without partial factors',
    'the bow itself, which is thicker than the notched leg, and the barrel behind the balls are not the weakest',
  ],
  sources: [tensionForm, pinConnections, yieldRatio],
  cautions: [strengthIsEstimated, movingMachinery],
  input: z.strictObject({
    barDiameterMm: quantity('d', 'mm', 'Bar diameter', { min: 1, max: 100 }),
    notchDepthMm: quantity('h', 'mm', 'Notch depth', { min: 0.01, max: 90 }),
    ballDiameterMm: quantity('d_b', 'mm', 'Ball diameter', { min: 0.5, max: 100 }),
    legsHeld: count('Legs held by a ball', { symbol: 'n', min: 1, max: 2 }),
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength of the shackle', { min: 50, max: 4000, trusted: [400, 2000] }),
    yieldMPa: quantity('R_p', 'MPa', 'Yield strength of the shackle', {
      min: 30,
      max: 4000,
      help: 'Left out: 0.8 of the tensile strength',
    }).optional(),
    engagementMm: quantity('e', 'mm', 'How far the ball stands in the notch', {
      min: 0.01,
      max: 50,
      help: 'Left out: the whole notch, or half the ball',
    }).optional(),
    ballTensileMPa: quantity(null, 'MPa', 'Tensile strength of the ball', { min: 50, max: 4000 }).optional(),
    notchToEndMm: quantity('a', 'mm', 'From the lower edge of the notch to the end of the leg', {
      min: 0.1,
      max: 500,
    }).optional(),
    bodyWallMm: quantity('t_w', 'mm', 'Wall of the body that the ball bears on', { min: 0.1, max: 200 }).optional(),
    bodyYieldMPa: quantity(null, 'MPa', 'Yield strength of the body', { min: 30, max: 3000 }).optional(),
  }),
  output: z.strictObject({
    pullN: quantity('F', 'N', 'Pull the shackle holds'),
    weakestLink: linkField('Weakest link'),
    links: list(
      'Ways to let go, weakest first',
      z
        .strictObject({ link: linkField('Way to let go'), perLegN: quantity('F_i', 'N', 'Force for one leg') })
        .meta({ title: 'Way to let go' }),
      { min: 2, max: 5 },
    ),
    netSectionMm2: quantity(null, 'mm²', 'Section left at the notch'),
    plainLegN: quantity(null, 'N', 'Tension of a leg without notch'),
    firstYieldN: quantity(null, 'N', 'Pull on one free leg at which the bottom of the notch begins to yield'),
  }),
  examples: [
    {
      title: '12 mm at 1400 MPa: 158.3 kN a leg without notch (by hand)',
      source: barTension,
      input: { barDiameterMm: 12, notchDepthMm: 3, ballDiameterMm: 8, legsHeld: 2, tensileMPa: 1400 },
      output: { plainLegN: 158_300 },
      tolerance: { relative: 1e-3 },
      reason: 'printed to four figures',
    },
    {
      title: '20 mm with a notch 4 deep: a circle less a segment of 44.729522 mm² (reference page)',
      source: segmentPage,
      input: { barDiameterMm: 20, notchDepthMm: 4, ballDiameterMm: 12, legsHeld: 1, tensileMPa: 1000 },
      output: { netSectionMm2: 269.429743 },
      tolerance: { absolute: 1e-6 },
      reason: 'printed to six decimals',
    },
    {
      title: '5 mm with a notch 1 deep: a circle less a segment of 2.796 mm² (printed table)',
      source: segmentTable,
      input: { barDiameterMm: 5, notchDepthMm: 1, ballDiameterMm: 4, legsHeld: 2, tensileMPa: 1000 },
      output: { netSectionMm2: 19.635 - 2.796 },
      tolerance: { absolute: 0.001 },
      reason: 'both printed to three decimals',
    },
    {
      title: 'wall of 5 mm under an 8 mm ball, 370 MPa: bearing 1.5·t·d·fy = 22.2 kN a leg (EN 1993-1-8, table 3.10)',
      source: pinConnections,
      input: {
        barDiameterMm: 40,
        notchDepthMm: 4,
        ballDiameterMm: 8,
        legsHeld: 2,
        tensileMPa: 2000,
        bodyWallMm: 5,
        bodyYieldMPa: 370,
      },
      output: { pullN: 44_400, weakestLink: 'body-wall' },
      tolerance: { relative: 1e-9 },
      reason: 'a formula identity',
    },
  ],
  run(input, report) {
    const wrong = contradictions(input)
    if (wrong.length > 0) return refuse(...wrong)
    const { barDiameterMm: d, notchDepthMm, legsHeld, tensileMPa, yieldMPa = YIELD_RATIO * tensileMPa } = input
    const engagementMm = input.engagementMm ?? Math.min(notchDepthMm, input.ballDiameterMm / 2)
    const links = linksOf({ ...input, engagementMm }).sort((a, b) => a.perLegN - b.perLegN)
    const [weakest = { link: 'net-section' as const, perLegN: 0 }] = links
    const section = notchedSection({ legDiameterMm: d, notchDepthMm })
    for (const text of notJudged(input)) report.notice(text)
    return {
      pullN: legsHeld * weakest.perLegN,
      weakestLink: weakest.link,
      links,
      netSectionMm2: section.areaMm2,
      plainLegN: tensionN((Math.PI / 4) * d ** 2, tensileMPa),
      firstYieldN: firstYieldN(section, yieldMPa),
    }
  },
  working({ input: { barDiameterMm: d, notchDepthMm: h, legsHeld, tensileMPa }, output }) {
    const n = texNumber
    const [weakest] = output.links
    const net = output.links.find(({ link }) => link === 'net-section')
    return [
      {
        finds: 'Section left at the notch',
        formula: String.raw`A = \frac{\pi d^2}{4} - \left[r^2 \arccos\frac{r-h}{r} - (r-h)\sqrt{2rh - h^2}\right], \quad r = \frac{d}{2}`,
        filled: String.raw`d = ${n(d)},\ h = ${n(h)}: \quad A = ${texQuantity(output.netSectionMm2, 'mm²')}`,
      },
      {
        finds: 'Tension of a leg at the notch',
        formula: String.raw`F_{net} = A\,R_m`,
        filled: String.raw`F_{net} = ${n(output.netSectionMm2)} \cdot ${n(tensileMPa)} = ${texQuantity(net?.perLegN ?? 0, 'N')}`,
      },
      {
        finds: `Pull the shackle holds (${LINK_TITLES[output.weakestLink].toLowerCase()})`,
        formula: String.raw`F = n \cdot \min_i F_i`,
        filled: String.raw`F = ${legsHeld} \cdot ${n(weakest?.perLegN ?? 0)} = ${texQuantity(output.pullN, 'N')}`,
      },
    ]
  },
})

/** What the figures given leave open, one sentence each. */
function notJudged({ legsHeld, ...input }: Input & { legsHeld: number }): string[] {
  const missing = [
    ...(input.ballTensileMPa === undefined ? ['shear of the ball'] : []),
    ...(input.notchToEndMm === undefined ? ['the end of the leg below the notch'] : []),
    ...(input.bodyWallMm === undefined ? ['the wall of the body'] : []),
  ]
  return [
    ...(missing.length > 0 ? [`Not judged, for want of figures: ${missing.join(', ')}.`] : []),
    ...(input.engagementMm === undefined
      ? ['The ball is taken to stand in the whole notch: give its engagement to judge what the chain of sizes leaves.']
      : []),
    ...(input.yieldMPa === undefined ? ['Yield strength is taken as 0.8 of the tensile strength.'] : []),
    ...(legsHeld === 1 ? ['With one leg held the bow also bends open; that is not counted.'] : []),
  ]
}
