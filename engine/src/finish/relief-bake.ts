import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hydrogenEmbrittlement } from '../caution.ts'
import { card42CrMo4 } from '../materials/steel-sources.ts'
import { quantity, text } from '../quantity.ts'
import { source } from '../source.ts'

const astmB850 = source({
  id: 'astm-b850.bake-times',
  status: 'standard',
  citation: 'ASTM B850-98 (reapproved 2009), bake after coating by tensile strength',
  place: 'rows 1001 to 1800 MPa at 190–220 °C, as printed on a plater’s bake chart',
  note: 'A treatment reduces the risk; it does not guarantee freedom from hydrogen damage.',
})

const iso9587Scope = source({
  id: 'iso-9587.scope',
  status: 'standard',
  citation: 'ISO 9587:2007, scope: steel from 1000 MPa (31 HRC) on, as shown in public previews',
})

const bakeAboveRows = source({
  id: 'astm-b850.above-1800',
  status: 'from memory (unverified)',
  citation: 'ASTM B850 and ISO 9588, class for steel above 1800 MPa: 24 h',
})

const bakeDelay = source({
  id: 'astm-b850.start-delay',
  status: 'from memory (unverified)',
  citation: 'ASTM B850 and ISO 9588, start of the bake after plating',
  note: 'Recalled as within 1 h where possible and 3 h at the latest; another note says 4 h. The stricter figure is used.',
})

const bakeBelowTempering = source({
  id: 'iso-9588.below-tempering',
  status: 'from memory (unverified)',
  citation: 'Both standards: the bake stays below the tempering temperature; a margin of 50 °C is usual',
})

/** Least hours by upper end of the tensile range in MPa; the first range begins at 1000. */
const ROWS: readonly (readonly [upToMPa: number, hours: number])[] = [
  [1100, 8],
  [1200, 10],
  [1300, 12],
  [1400, 14],
  [1500, 16],
  [1600, 18],
  [1700, 20],
  [1800, 22],
]
const FROM_MPA = 1000
const HOURS_ABOVE_ROWS = 24
const BAKE_C = { min: 190, max: 220 }
const START_WITHIN_HOURS = 3
/** How far the bake stays below the tempering temperature, so that it does not soften the part. */
export const BELOW_TEMPERING_C = 50

/** Least hours of bake at 190 to 220 °C for a tensile strength in MPa; 0 below 1000 MPa (ASTM B850; above 1800 MPa from memory). */
export function bakeHours(tensileMPa: number): number {
  if (tensileMPa < FROM_MPA) return 0
  return ROWS.find(([upTo]) => tensileMPa <= upTo)?.[1] ?? HOURS_ABOVE_ROWS
}

/** Whether, how long, how hot and how soon plated steel is baked to drive the hydrogen out. */
export const reliefBake = calculation({
  id: 'finish.relief-bake',
  title: 'Bake against hydrogen',
  summary: 'Whether steel of a strength must be baked after plating, how long, how hot, and how soon.',
  assumes: ['the strength is the highest anywhere in the part, the hardened skin included'],
  sources: [astmB850, iso9587Scope, bakeAboveRows, bakeDelay, bakeBelowTempering],
  cautions: [hydrogenEmbrittlement],
  input: z.strictObject({
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength', { min: 100, max: 2500, trusted: [100, 1800] }),
    temperedAtC: quantity(null, '°C', 'Tempered at', {
      min: 100,
      max: 720,
      help: 'When given, the bake is held against it',
    }).optional(),
  }),
  output: z.strictObject({
    needed: z.boolean().meta({ title: 'Bake needed' }),
    hours: quantity(null, 'h', 'At least', { min: 0 }),
    minC: quantity(null, '°C', 'At least').optional(),
    maxC: quantity(null, '°C', 'At most').optional(),
    withinHours: quantity(null, 'h', 'Begin within').optional(),
    belowTemperingC: quantity(null, '°C', 'Left to the tempering temperature at the hottest bake').optional(),
    source: text('Source', { max: 300 }),
  }),
  examples: [
    {
      title: '1001–1100 MPa: 8 h at 190–220 °C (bake chart)',
      source: astmB850,
      input: { tensileMPa: 1050 },
      output: { needed: true, hours: 8, minC: 190, maxC: 220 },
    },
    {
      title: '1401–1500 MPa: 16 h (bake chart)',
      source: astmB850,
      input: { tensileMPa: 1450 },
      output: { needed: true, hours: 16 },
    },
    {
      title: '42CrMo4 tempered at 400 °C, 1590 MPa: 18 h (card and bake chart)',
      source: card42CrMo4,
      input: { tensileMPa: 1590, temperedAtC: 400 },
      output: { needed: true, hours: 18 },
    },
    {
      title: '42CrMo4 tempered at 700 °C, 880 MPa: no bake (card and bake chart)',
      source: card42CrMo4,
      input: { tensileMPa: 880, temperedAtC: 700 },
      output: { needed: false, hours: 0 },
    },
  ],
  run({ tensileMPa, temperedAtC }, report) {
    const hours = bakeHours(tensileMPa)
    if (hours === 0)
      return {
        needed: false,
        hours: 0,
        source: `${iso9587Scope.citation}; ${astmB850.citation}: no row below ${FROM_MPA} MPa`,
      }
    report.notice(
      `Begin the bake within ${START_WITHIN_HOURS} h of plating, within 1 h where possible: from memory, another note says 4 h, the stricter holds.`,
    )
    const aboveRows = hours === HOURS_ABOVE_ROWS
    if (aboveRows)
      report.notice('Above 1800 MPa the bake of 24 h is from memory: confirm it before plating such steel.')
    const belowTemperingC = temperedAtC === undefined ? undefined : temperedAtC - BAKE_C.max
    if (belowTemperingC !== undefined && belowTemperingC < BELOW_TEMPERING_C)
      report.notice(
        `The bake would come within ${BELOW_TEMPERING_C} °C of the tempering at ${temperedAtC} °C and may soften the part: temper higher, or agree a longer and cooler bake.`,
      )
    return {
      needed: true,
      hours,
      minC: BAKE_C.min,
      maxC: BAKE_C.max,
      withinHours: START_WITHIN_HOURS,
      ...(belowTemperingC === undefined ? {} : { belowTemperingC }),
      source: aboveRows ? bakeAboveRows.citation : `${astmB850.citation}, row up to ${rowEnd(tensileMPa)} MPa`,
    }
  },
  working:
    'Read from the row of ASTM B850 that holds the tensile strength; from 1000 MPa on a bake is needed, the scope of ISO 9587.',
})

const rowEnd = (tensileMPa: number) => ROWS.find(([upTo]) => tensileMPa <= upTo)?.[0] ?? FROM_MPA
