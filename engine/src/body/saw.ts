import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { type Issue, refuse } from '../issue.ts'
import { CUT_MATERIALS, cuttingData, drillingPractice, sawingRates } from '../materials/cutting-data.ts'
import { choice, count, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const cuttingRate = source({
  id: 'practice.saw-cutting-rate',
  status: 'common practice (no source)',
  citation: 'Cutting rate of a saw: section area in cm² over the time of the cut in minutes',
})

const sawManual = source({
  id: 'manual.band-saw-section',
  status: 'handbook',
  citation: 'Instruction manual of a metal band saw, choice of the blade, read in a public copy',
  place: '100 mm outside diameter: 79 cm²; 75 mm: 44 cm²',
})

/** How long cuts through a bar take. */
export const saw = calculation({
  id: 'body.saw',
  title: 'Time of a saw cut',
  summary:
    'Section area of the bar over the cutting rate of saw and blade, for one cut and for many; cuts a blade lasts for, where its life is known.',
  equation: String.raw`t = \frac{A}{q}`,
  assumes: [
    'the cutting rate holds for this steel, section and blade: one measured on the saw goes before one from a table',
    'clamping and return are not in the time',
  ],
  sources: [cuttingRate, sawingRates, drillingPractice, sawManual],
  cautions: [movingMachinery],
  input: z.strictObject({
    section: choice('Section', ['flat', 'round'], { flat: 'Flat bar', round: 'Round bar' }),
    widthMm: quantity('w', 'mm', 'Width, or diameter of a round bar', { min: 0.5, max: 1000 }),
    heightMm: quantity('h', 'mm', 'Height of a flat bar', { min: 0.5, max: 1000 }).optional(),
    material: choice(
      'Material',
      CUT_MATERIALS,
      Object.fromEntries(CUT_MATERIALS.map((name) => [name, cuttingData[name].title])),
    ).optional(),
    rateCm2PerMin: quantity('q', 'cm²/min', 'Cutting rate as measured', {
      min: 0.1,
      max: 1000,
      trusted: [2, 200],
      help: 'Left out: the usual one of the material',
    }).optional(),
    cuts: count('Cuts', { symbol: 'N', min: 1, max: 1_000_000 }).optional(),
    bladeLifeCm2: quantity(null, 'cm²', 'Section area a blade cuts in its life', { min: 1, max: 1e7 }).optional(),
  }),
  output: z.strictObject({
    minutesPerCut: quantity('t', 'min', 'Time of a cut'),
    minutes: quantity(null, 'min', 'Time of all cuts'),
    sectionCm2: quantity('A', 'cm²', 'Section area'),
    rateCm2PerMin: quantity('q', 'cm²/min', 'Cutting rate'),
    cutsPerBlade: count('Cuts a blade lasts for').optional(),
  }),
  examples: [
    {
      title: '100 mm round: 79 cm² (manual of a band saw); at 79 cm²/min a minute',
      source: sawManual,
      input: { section: 'round', widthMm: 100, rateCm2PerMin: 79 },
      output: { sectionCm2: 79, minutesPerCut: 1 },
      tolerance: { relative: 0.007 },
      reason: 'printed to two figures',
    },
    {
      title:
        '50 by 20 flat at 20 cm²/min: 10 cm², half a minute; 4 cuts two minutes, a blade of 5000 cm² 500 (by hand)',
      source: cuttingRate,
      input: { section: 'flat', widthMm: 50, heightMm: 20, rateCm2PerMin: 20, cuts: 4, bladeLifeCm2: 5000 },
      output: { sectionCm2: 10, minutesPerCut: 0.5, minutes: 2, cutsPerBlade: 500 },
    },
  ],
  run({ section, widthMm, heightMm, material, rateCm2PerMin, cuts = 1, bladeLifeCm2 }, report) {
    const rate = rateCm2PerMin ?? (material === undefined ? undefined : cuttingData[material].sawingCm2PerMin)
    const issues = [...heightIssues(section, heightMm), ...(rate === undefined ? [noRate] : [])]
    if (rate === undefined || issues.length > 0) return refuse(...issues)
    if (rateCm2PerMin === undefined)
      report.notice('The cutting rate is a starting value for the material: measure it on the saw and give it.')
    const mm2 = section === 'flat' ? widthMm * (heightMm ?? 0) : (Math.PI / 4) * widthMm ** 2
    const sectionCm2 = mm2 / 100 // mm² → cm²
    const minutesPerCut = sectionCm2 / rate
    return {
      minutesPerCut,
      minutes: cuts * minutesPerCut,
      sectionCm2,
      rateCm2PerMin: rate,
      ...(bladeLifeCm2 === undefined ? {} : { cutsPerBlade: Math.floor((bladeLifeCm2 / sectionCm2) * (1 + 1e-12)) }),
    }
  },
  working({ input: { section, widthMm, heightMm }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Section area',
        formula: section === 'flat' ? 'A = w h' : String.raw`A = \frac{\pi}{4} w^2`,
        filled:
          section === 'flat'
            ? String.raw`A = ${n(widthMm / 10)} \cdot ${n((heightMm ?? 0) / 10)} = ${texQuantity(output.sectionCm2, 'cm²')}`
            : String.raw`A = \frac{\pi}{4} \cdot ${n(widthMm / 10)}^2 = ${texQuantity(output.sectionCm2, 'cm²')}`,
      },
      {
        finds: 'Time of a cut',
        formula: String.raw`t = \frac{A}{q}`,
        filled: String.raw`t = \frac{${n(output.sectionCm2)}}{${n(output.rateCm2PerMin)}} = ${texQuantity(output.minutesPerCut, 'min')}`,
      },
    ]
  },
})

const noRate: Issue = {
  path: 'rateCm2PerMin',
  code: 'missing',
  message: 'Give the cutting rate measured on the saw, or the material to take its usual one.',
  allowed: 'rateCm2PerMin or material',
}

/** A flat bar needs its height; a round one has none. */
function heightIssues(section: 'flat' | 'round', heightMm: number | undefined): Issue[] {
  const path = 'heightMm'
  if (section === 'flat' && heightMm === undefined)
    return [{ path, code: 'missing', message: 'A flat bar needs its height.' }]
  if (section === 'round' && heightMm !== undefined)
    return [{ path, code: 'contradiction', message: 'A round bar has no height. Leave it out.', value: heightMm }]
  return []
}
