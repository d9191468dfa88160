import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hexavalentChromium, nickelSalts } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { DEPOSIT_METALS, deposits, FARADAY, platingConstants } from '../materials/deposits.ts'
import { choice, count, list, percent, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { rinseRatio } from './rinse.ts'

const bathBalance = source({
  id: 'practice.bath-balance',
  status: 'common practice (no source)',
  citation:
    'Balance of a plating bath: metal plated by ampere hours, bath carried out by area, brightener by ampere hours; anodes give the metal back',
})

const dragOutExample = source({
  id: 'note.drag-out-by-balance',
  status: 'handbook',
  citation:
    'Chemical supplier’s note on drag-out: what is added of a salt that only drag-out consumes, over its concentration',
  place: '16 000 oz over 20 oz/gal: 800 gallons of bath',
})

/** What a bath uses up over some work: anodes, salts carried out, additives, rinse water, and what goes to waste treatment. */
export const bath = calculation({
  id: 'finish.bath',
  title: 'What a bath uses up',
  summary:
    'Metal plated and anodes used, bath and salts carried out with the work, additives by ampere hours, rinse water, and metal for the waste treatment.',
  equation: String.raw`m = \frac{Q\,M\,\eta}{n F}, \quad V = v A, \quad W = r V`,
  assumes: [
    'every part carries out the same volume of bath on each dm²; nothing is brought in or brought back',
    'anodes dissolve as much metal as their share of the current; insoluble anodes: none',
    'everything that is carried out ends in the rinse water',
  ],
  sources: [bathBalance, platingConstants, dragOutExample],
  cautions: [nickelSalts, hexavalentChromium],
  input: z.strictObject({
    metal: choice('Metal', DEPOSIT_METALS, Object.fromEntries(DEPOSIT_METALS.map((m) => [m, deposits[m].title]))),
    ampereHours: quantity('Q', 'Ah', 'Charge passed', { min: 0, max: 100_000_000 }),
    efficiencyPercent: percent(String.raw`\eta`, 'Cathode efficiency', { min: 0.1, max: 100 }),
    anodeEfficiencyPercent: percent(null, 'Anode efficiency', {
      min: 0,
      max: 110,
      help: '0 for insoluble anodes, as in chromium baths',
    }),
    areaDm2: quantity('A', 'dm²', 'Area plated', { min: 0, max: 100_000_000 }),
    dragOutMlPerDm2: quantity('v', 'mL/dm²', 'Bath carried out', { min: 0, max: 100 }),
    metalGPerL: quantity('C', 'g/L', 'Metal in the bath', { min: 0, max: 500 }),
    salts: list(
      'Salts of the bath',
      z.strictObject({
        name: text('Salt', { max: 60 }),
        gPerL: quantity(null, 'g/L', 'In the bath', { min: 0, max: 1000 }),
      }),
      { min: 0, max: 12 },
    ),
    additives: list(
      'Additives by ampere hours',
      z.strictObject({
        name: text('Additive', { max: 60 }),
        mlPerKiloampereHour: quantity(null, 'mL/kAh', 'Used up', { min: 0, max: 100_000 }),
      }),
      { min: 0, max: 12 },
    ),
    rinse: z
      .strictObject({
        stages: count('Rinse tanks in counter-flow', { min: 1, max: 5 }),
        targetGPerL: quantity(null, 'g/L', 'Metal wanted in the last rinse', { min: 1e-6, max: 100 }),
      })
      .meta({ title: 'Rinse' })
      .optional(),
  }),
  output: z.strictObject({
    platedG: quantity('m', 'g', 'Metal plated'),
    anodeG: quantity(null, 'g', 'Anodes used'),
    dragOutL: quantity('V', 'L', 'Bath carried out'),
    metalCarriedOutG: quantity(null, 'g', 'Metal to the waste treatment'),
    metalBalanceG: quantity(null, 'g', 'Metal the bath gains: anodes less plated and carried out'),
    saltsG: list(
      'Salts carried out',
      z.strictObject({ name: text('Salt', { max: 60 }), grams: quantity(null, 'g', 'Carried out') }),
      {
        min: 0,
        max: 12,
      },
    ),
    additivesMl: list(
      'Additives used up',
      z.strictObject({ name: text('Additive', { max: 60 }), millilitres: quantity(null, 'mL', 'Used up') }),
      { min: 0, max: 12 },
    ),
    rinseWaterL: quantity('W', 'L', 'Rinse water to the waste treatment').optional(),
  }),
  examples: [
    {
      title: '1000 Ah of nickel at 100 % plate 1095 g (electrochemical table)',
      source: platingConstants,
      input: {
        metal: 'nickel',
        ampereHours: 1000,
        efficiencyPercent: 100,
        anodeEfficiencyPercent: 100,
        areaDm2: 0,
        dragOutMlPerDm2: 0,
        metalGPerL: 75,
        salts: [],
        additives: [],
      },
      output: { platedG: 1095, anodeG: 1095, dragOutL: 0, metalBalanceG: 0 },
      tolerance: { absolute: 1 },
      reason: 'printed to four figures',
    },
    {
      title:
        '1000 dm² at 1 mL/dm² carry out 1 L: of 150 g/L, 150 g (balance, by hand; as 800 gallons at 20 oz/gal are 16 000 oz)',
      source: dragOutExample,
      input: {
        metal: 'nickel',
        ampereHours: 0,
        efficiencyPercent: 95,
        anodeEfficiencyPercent: 100,
        areaDm2: 1000,
        dragOutMlPerDm2: 1,
        metalGPerL: 75,
        salts: [{ name: 'Boric acid', gPerL: 150 }],
        additives: [{ name: 'Brightener', mlPerKiloampereHour: 200 }],
        rinse: { stages: 1, targetGPerL: 0.75 },
      },
      output: {
        dragOutL: 1,
        metalCarriedOutG: 75,
        saltsG: [{ grams: 150 }],
        additivesMl: [{ millilitres: 0 }],
        rinseWaterL: 99,
      },
      tolerance: { relative: 1e-9 },
      reason: 'whole numbers',
    },
  ],
  run(input) {
    const { metal, ampereHours, efficiencyPercent, anodeEfficiencyPercent, areaDm2, metalGPerL, rinse } = input
    const { molarMassKgPerMol, electrons } = deposits[metal]
    const gramsPerAh = (molarMassKgPerMol * 1000 * 3600) / (electrons * FARADAY) // kg/mol, C → g/Ah
    const platedG = ampereHours * gramsPerAh * (efficiencyPercent / 100)
    const anodeG = ampereHours * gramsPerAh * (anodeEfficiencyPercent / 100)
    const dragOutL = (areaDm2 * input.dragOutMlPerDm2) / 1000 // mL → L
    const metalCarriedOutG = dragOutL * metalGPerL
    const common = {
      platedG,
      anodeG,
      dragOutL,
      metalCarriedOutG,
      metalBalanceG: anodeG - platedG - metalCarriedOutG,
      saltsG: input.salts.map(({ name, gPerL }) => ({ name, grams: gPerL * dragOutL })),
      additivesMl: input.additives.map(({ name, mlPerKiloampereHour }) => ({
        name,
        millilitres: (mlPerKiloampereHour * ampereHours) / 1000,
      })),
    }
    if (rinse === undefined) return common
    if (rinse.targetGPerL >= metalGPerL)
      return refuse({
        path: 'rinse.targetGPerL',
        code: 'contradiction',
        message: 'The rinse is wanted no cleaner than the bath: there is nothing to rinse.',
        value: rinse.targetGPerL,
        allowed: `below ${metalGPerL} g/L`,
      })
    const ratio = rinseRatio((metalGPerL - rinse.targetGPerL) / rinse.targetGPerL, rinse.stages)
    if (ratio === undefined)
      return refuse({
        path: 'rinse.targetGPerL',
        code: 'not-converged',
        message: 'The water needed could not be found.',
      })
    return { ...common, rinseWaterL: ratio * dragOutL }
  },
  working: ({ input: { ampereHours, metal, efficiencyPercent, areaDm2, dragOutMlPerDm2 }, output }) => [
    {
      finds: 'Metal plated',
      formula: String.raw`m = \frac{Q\,M\,\eta}{n F}`,
      filled: String.raw`m = \frac{${texNumber(ampereHours)} \cdot 3600 \cdot ${texNumber(deposits[metal].molarMassKgPerMol * 1000)} \cdot ${texNumber(efficiencyPercent / 100)}}{${deposits[metal].electrons} \cdot ${FARADAY.toFixed(0)}} = ${texQuantity(output.platedG, 'g')}`,
    },
    {
      finds: 'Bath carried out',
      formula: 'V = v A',
      filled: String.raw`V = ${texNumber(dragOutMlPerDm2)} \cdot ${texNumber(areaDm2)}\,\text{mL} = ${texQuantity(output.dragOutL, 'L')}`,
    },
  ],
})
