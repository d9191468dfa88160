import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel, hydrogenEmbrittlement } from '../caution.ts'
import { quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { BELOW_TEMPERING_C } from './relief-bake.ts'

const iso9587 = source({
  id: 'iso-9587.stress-relief-scope',
  status: 'standard',
  citation: 'ISO 9587:2007, scope, as shown in public previews',
  place: 'steel from 1000 MPa (300 HV 10, 303 HB, 31 HRC) on; surface-hardened parts judged by the hardened layer',
  note: 'Where no class is stated the longest holds. The table of its classes was not seen.',
})

const astmB849 = source({
  id: 'astm-b849.stress-relief-classes',
  status: 'from memory (unverified)',
  citation: 'ASTM B849, classes SR-1 to SR-8 of stress relief before coating, by tensile strength',
  note: 'Its scope page was read and calls it equivalent to ISO 9587; hours and temperatures are recalled. Confirm them before they are promised.',
})

interface ReliefClass {
  readonly name: string
  /** The class holds from this strength up. */
  readonly fromMPa: number
  readonly hours: number
}

/** Hottest class first of all that hold for a strength; the cooler ones take over where the hot ones come too near the tempering. */
const HOT = {
  minC: 200,
  maxC: 230,
  classes: [
    { name: 'SR-1', fromMPa: 1801, hours: 24 },
    { name: 'SR-3', fromMPa: 1401, hours: 18 },
    { name: 'SR-6', fromMPa: 1000, hours: 3 },
  ],
} as const
const COOL = {
  minC: 190,
  maxC: 220,
  classes: [
    { name: 'SR-2', fromMPa: 1801, hours: 24 },
    { name: 'SR-4', fromMPa: 1451, hours: 18 },
    { name: 'SR-7', fromMPa: 1050, hours: 1 },
  ],
} as const
const SURFACE_HARDENED = { name: 'SR-8', minC: 130, maxC: 160, hours: 8 } as const
const FROM_MPA = 1000

const classFor = (tensileMPa: number, classes: readonly ReliefClass[]) =>
  classes.find(({ fromMPa }) => tensileMPa >= fromMPa)

/** Whether hard steel is freed of stresses before it goes into acid and plating baths, in which class, how hot and how long. */
export const stressRelief = calculation({
  id: 'finish.stress-relief',
  title: 'Stress relief before plating',
  summary:
    'Whether steel that was worked after tempering needs stress relief before cleaning and plating, how long and how hot, below its tempering temperature.',
  assumes: [
    'only what was ground, straightened, machined or cold formed after tempering holds stresses that matter',
    'the strength is the highest anywhere in the part',
  ],
  sources: [astmB849, iso9587],
  cautions: [hydrogenEmbrittlement, hotSteel],
  input: z.strictObject({
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength', { min: 100, max: 2500, trusted: [100, 1800] }),
    workedAfterTempering: z.boolean().meta({ title: 'Ground, straightened, machined or cold formed after tempering' }),
    surfaceHardened: z
      .boolean()
      .meta({ title: 'Surface hardened', description: 'Left out: hardened through' })
      .optional(),
    temperedAtC: quantity(null, '°C', 'Tempered at', { min: 100, max: 720 }).optional(),
  }),
  output: z.strictObject({
    needed: z.boolean().meta({ title: 'Stress relief needed' }),
    reliefClass: text('Class'),
    hours: quantity(null, 'h', 'At least', { min: 0 }),
    minC: quantity(null, '°C', 'At least').optional(),
    maxC: quantity(null, '°C', 'At most').optional(),
    belowTemperingC: quantity(null, '°C', 'Left to the tempering temperature at the hottest').optional(),
    source: text('Source', { max: 300 }),
  }),
  examples: [
    {
      title: 'below 1000 MPa none, from there on (ISO 9587, scope)',
      source: iso9587,
      input: { tensileMPa: 999, workedAfterTempering: true },
      output: { needed: false, reliefClass: 'SR-0', hours: 0 },
    },
    {
      title: '1401 to 1800 MPa, ground: SR-3, 18 h at 200–230 °C (from memory)',
      source: astmB849,
      input: { tensileMPa: 1500, workedAfterTempering: true, temperedAtC: 430 },
      output: { needed: true, reliefClass: 'SR-3', hours: 18, minC: 200, maxC: 230, belowTemperingC: 200 },
    },
  ],
  run({ tensileMPa, workedAfterTempering, surfaceHardened = false, temperedAtC }, report) {
    if (tensileMPa < FROM_MPA || !workedAfterTempering)
      return {
        needed: false,
        reliefClass: 'SR-0',
        hours: 0,
        source:
          tensileMPa < FROM_MPA
            ? `${iso9587.citation}: below ${FROM_MPA} MPa`
            : 'Nothing was worked after tempering: no stresses to relieve',
      }
    report.notice('Hours and temperatures of the classes are from memory: confirm them in ASTM B849 or ISO 9587.')
    const roomC = (maxC: number) => (temperedAtC ?? Number.POSITIVE_INFINITY) - maxC
    const hot = classFor(tensileMPa, HOT.classes)
    const cool = classFor(tensileMPa, COOL.classes)
    const taken = surfaceHardened
      ? SURFACE_HARDENED
      : roomC(HOT.maxC) < BELOW_TEMPERING_C && cool !== undefined
        ? { ...cool, minC: COOL.minC, maxC: COOL.maxC }
        : { name: hot?.name ?? 'SR-1', hours: hot?.hours ?? 24, minC: HOT.minC, maxC: HOT.maxC }
    if (roomC(taken.maxC) < BELOW_TEMPERING_C)
      report.notice(
        `Stress relief would come within ${BELOW_TEMPERING_C} °C of the tempering at ${temperedAtC} °C and may soften the part: temper higher, or work it before tempering.`,
      )
    return {
      needed: true,
      reliefClass: taken.name,
      hours: taken.hours,
      minC: taken.minC,
      maxC: taken.maxC,
      ...(temperedAtC === undefined ? {} : { belowTemperingC: temperedAtC - taken.maxC }),
      source: astmB849.citation,
    }
  },
  working:
    'The class is read from the tensile strength; where the hotter treatment comes within the margin of the tempering temperature, the cooler class takes its place.',
})
