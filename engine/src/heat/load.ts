import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { wholeMultiples } from '../numeric/whole-multiples.ts'
import { choice, count, percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const chargeArithmetic = source({
  id: 'practice.furnace-charge',
  status: 'common practice (no source)',
  citation: 'A charge holds what the hearth carries and what the basket holds; the smaller decides',
})

/** How many parts share a furnace charge, and how many charges a lot takes. */
export const furnaceLoad = calculation({
  id: 'heat.load',
  title: 'Furnace charges of a lot',
  summary: 'Parts per charge by mass and by basket volume, how many charges a lot takes, and how long they run.',
  equation: String.raw`n = \min\!\left(\left\lfloor\frac{M}{m}\right\rfloor, \left\lfloor\frac{\varphi V}{v}\right\rfloor\right), \quad N = \left\lceil\frac{Q}{n}\right\rceil`,
  assumes: [
    'every charge runs the whole cycle, full or not',
    'v is the room one part takes in the basket, gaps not counted',
  ],
  sources: [chargeArithmetic],
  cautions: [hotSteel],
  input: z.strictObject({
    parts: count('Parts in the lot', { symbol: 'Q', min: 1, max: 10_000_000 }),
    partMassKg: quantity('m', 'kg', 'Mass of a part', { min: 1e-4, max: 1000 }),
    partVolumeL: quantity('v', 'L', 'Room a part takes', { min: 1e-5, max: 1000 }),
    chargeMassKg: quantity('M', 'kg', 'Largest mass of parts in a charge', { min: 0.01, max: 100_000 }),
    basketVolumeL: quantity('V', 'L', 'Volume of the basket', { min: 0.01, max: 100_000 }),
    fillPercent: percent(String.raw`\varphi`, 'Share of the basket that may be filled', {
      min: 1,
      max: 100,
      trusted: [10, 70],
      help: 'Room must stay for heat and quench to reach every part',
    }),
    cycleMinutes: quantity('t', 'min', 'Time of one charge', { min: 1, max: 100_000 }),
  }),
  output: z.strictObject({
    partsPerCharge: count('Parts in a full charge', { symbol: 'n', min: 1 }),
    limitedBy: choice('Limited by', ['mass', 'volume', 'lot'], {
      mass: 'Mass',
      volume: 'Volume',
      lot: 'Size of the lot',
    }),
    charges: count('Charges', { symbol: 'N', min: 1 }),
    partsInLastCharge: count('Parts in the last charge', { min: 1 }),
    fullChargeKg: quantity(null, 'kg', 'Mass of a full charge'),
    totalMinutes: quantity(null, 'min', 'Furnace time of the lot'),
  }),
  examples: [
    {
      title: '480 parts of 0.1 kg, 30 kg or 60 L at 50 %, 0.25 L each: 120 a charge, 4 charges (by hand)',
      source: chargeArithmetic,
      input: {
        parts: 480,
        partMassKg: 0.1,
        partVolumeL: 0.25,
        chargeMassKg: 30,
        basketVolumeL: 60,
        fillPercent: 50,
        cycleMinutes: 90,
      },
      output: { partsPerCharge: 120, limitedBy: 'volume', charges: 4, partsInLastCharge: 120, totalMinutes: 360 },
    },
    {
      title: '250 parts of 0.1 kg, 10 kg a charge: 100 a charge, 3 charges, the last of 50 (by hand)',
      source: chargeArithmetic,
      input: {
        parts: 250,
        partMassKg: 0.1,
        partVolumeL: 0.1,
        chargeMassKg: 10,
        basketVolumeL: 100,
        fillPercent: 50,
        cycleMinutes: 60,
      },
      output: { partsPerCharge: 100, limitedBy: 'mass', charges: 3, partsInLastCharge: 50, totalMinutes: 180 },
    },
  ],
  run({ parts, partMassKg, partVolumeL, chargeMassKg, basketVolumeL, fillPercent, cycleMinutes }) {
    const byMass = wholeMultiples(chargeMassKg, partMassKg)
    const byVolume = wholeMultiples((basketVolumeL * fillPercent) / 100, partVolumeL)
    if (byMass < 1 || byVolume < 1)
      return refuse(
        ...(byMass < 1
          ? [tooLarge('partMassKg', 'A single part is heavier than a charge may be.', partMassKg, `${chargeMassKg} kg`)]
          : []),
        ...(byVolume < 1
          ? [
              tooLarge(
                'partVolumeL',
                'A single part takes more room than may be filled.',
                partVolumeL,
                `${(basketVolumeL * fillPercent) / 100} L`,
              ),
            ]
          : []),
      )
    const holds = Math.min(byMass, byVolume)
    const partsPerCharge = Math.min(holds, parts)
    const charges = Math.ceil(parts / partsPerCharge)
    return {
      partsPerCharge,
      limitedBy: parts <= holds ? ('lot' as const) : byMass <= byVolume ? ('mass' as const) : ('volume' as const),
      charges,
      partsInLastCharge: parts - (charges - 1) * partsPerCharge,
      fullChargeKg: partsPerCharge * partMassKg,
      totalMinutes: charges * cycleMinutes,
    }
  },
  working({
    input: { parts, partMassKg, partVolumeL, chargeMassKg, basketVolumeL, fillPercent, cycleMinutes },
    output,
  }) {
    const n = texNumber
    return [
      {
        finds: 'Parts in a charge',
        formula: String.raw`n = \min\!\left(\left\lfloor\frac{M}{m}\right\rfloor, \left\lfloor\frac{\varphi V}{v}\right\rfloor, Q\right)`,
        filled: String.raw`n = \min\!\left(\left\lfloor\frac{${n(chargeMassKg)}}{${n(partMassKg)}}\right\rfloor, \left\lfloor\frac{${n(fillPercent / 100)} \cdot ${n(basketVolumeL)}}{${n(partVolumeL)}}\right\rfloor, ${n(parts, 8)}\right) = ${n(output.partsPerCharge, 8)}`,
      },
      {
        finds: 'Charges and time',
        formula: String.raw`N = \left\lceil\frac{Q}{n}\right\rceil, \quad T = N\,t`,
        filled: String.raw`N = \left\lceil\frac{${n(parts, 8)}}{${n(output.partsPerCharge, 8)}}\right\rceil = ${n(output.charges, 8)}, \quad T = ${n(output.charges, 8)} \cdot ${n(cycleMinutes)} = ${texQuantity(output.totalMinutes, 'min')}`,
      },
    ]
  },
})

function tooLarge(path: string, message: string, value: number, limit: string) {
  return { path, code: 'out-of-reach' as const, message, value, allowed: `at most ${limit}` }
}
