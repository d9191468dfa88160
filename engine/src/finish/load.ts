import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { rectifierCurrent } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { wholeMultiples } from '../numeric/whole-multiples.ts'
import { choice, count, percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const rackArithmetic = source({
  id: 'practice.rack-load',
  status: 'common practice (no source)',
  citation:
    'A load holds what the racks have places for, or what the barrel takes at its filling, and what the rectifier can drive; the smaller decides',
})

/** How many parts share a plating load, and how many loads a lot takes. */
export const platingLoad = calculation({
  id: 'finish.load',
  title: 'Plating loads of a lot',
  summary:
    'Parts per load by rack places or barrel filling and by rectifier, loads for the lot, and the current of a full and of the last load.',
  equation: String.raw`n = \min\!\left(R,\; \left\lfloor\frac{I_{max}}{a\,j}\right\rfloor\right), \quad N = \left\lceil\frac{Q}{n}\right\rceil, \quad I = n\,a\,j`,
  assumes: ['every part draws current by its own area', 'bare places of the rack are stopped off'],
  sources: [rackArithmetic],
  cautions: [rectifierCurrent],
  input: z.strictObject({
    parts: count('Parts in the lot', { symbol: 'Q', min: 1, max: 10_000_000 }),
    partAreaDm2: quantity('a', 'dm²', 'Plated area of a part', { min: 1e-4, max: 1000 }),
    places: count('Places on the racks of a load', {
      symbol: 'R',
      min: 1,
      max: 1_000_000,
      help: 'Give this or the barrel, not both',
    }).optional(),
    barrel: z
      .strictObject({
        volumeL: quantity(null, 'L', 'Barrel, inside', { min: 0.1, max: 10_000 }),
        fillPercent: percent(null, 'Filled', { min: 1, max: 100, trusted: [20, 60] }),
        partsPerL: quantity(null, '1/L', 'Loose parts in a litre', { min: 0.001, max: 1_000_000 }),
      })
      .meta({ title: 'Barrel' })
      .optional(),
    currentDensityAPerDm2: quantity('j', 'A/dm²', 'Current density', { min: 0.001, max: 200, trusted: [0.1, 60] }),
    currentLimitA: quantity('I_{max}', 'A', 'Largest rectifier current', { min: 0.01, max: 100_000 }),
    minutes: quantity('t', 'min', 'Time of a load in the tank', { min: 0.01, max: 100_000 }),
  }),
  output: z.strictObject({
    partsPerLoad: count('Parts in a full load', { symbol: 'n', min: 1 }),
    limitedBy: choice('Limited by', ['places', 'barrel', 'current', 'lot'], {
      places: 'Places on the racks',
      barrel: 'Filling of the barrel',
      current: 'Rectifier current',
      lot: 'Size of the lot',
    }),
    loads: count('Loads', { symbol: 'N', min: 1 }),
    currentA: quantity('I', 'A', 'Rectifier current of a full load'),
    partsInLastLoad: count('Parts in the last load', { min: 1 }),
    lastLoadCurrentA: quantity(null, 'A', 'Rectifier current of the last load'),
    totalMinutes: quantity(null, 'min', 'Tank time of the lot, one load after another'),
  }),
  examples: [
    {
      title: '480 parts of 0.5 dm² at 4 A/dm², 120 places, 200 A: 100 a load, 5 loads, the last 80 at 160 A (by hand)',
      source: rackArithmetic,
      input: {
        parts: 480,
        partAreaDm2: 0.5,
        places: 120,
        currentDensityAPerDm2: 4,
        currentLimitA: 200,
        minutes: 30,
      },
      output: {
        partsPerLoad: 100,
        limitedBy: 'current',
        loads: 5,
        currentA: 200,
        partsInLastLoad: 80,
        lastLoadCurrentA: 160,
        totalMinutes: 150,
      },
      tolerance: { relative: 1e-12 },
      reason: 'whole numbers',
    },
    {
      title: 'barrel of 40 L a third full, 30 parts a litre: 400 a load, 1000 parts in 3 loads (by hand)',
      source: rackArithmetic,
      input: {
        parts: 1000,
        partAreaDm2: 0.2,
        barrel: { volumeL: 40, fillPercent: 100 / 3, partsPerL: 30 },
        currentDensityAPerDm2: 1,
        currentLimitA: 200,
        minutes: 90,
      },
      output: {
        partsPerLoad: 400,
        limitedBy: 'barrel',
        loads: 3,
        currentA: 80,
        partsInLastLoad: 200,
        totalMinutes: 270,
      },
      tolerance: { relative: 1e-12 },
      reason: 'whole numbers',
    },
  ],
  run({ parts, partAreaDm2, places, barrel, currentDensityAPerDm2, currentLimitA, minutes }) {
    const room = roomFor(places, barrel)
    if (room === undefined)
      return refuse({
        path: 'places',
        code: 'contradiction',
        message: 'Give either the places on the racks or a barrel, not both and not neither.',
        allowed: 'one of places, barrel',
      })
    if (room < 1)
      return refuse({
        path: 'barrel',
        code: 'out-of-reach',
        message: 'Not even one part goes into the barrel at this filling.',
        allowed: 'a larger or fuller barrel, or parts of which more go into a litre',
      })
    const currentPerPart = partAreaDm2 * currentDensityAPerDm2
    const byCurrent = wholeMultiples(currentLimitA, currentPerPart)
    if (byCurrent < 1)
      return refuse({
        path: 'currentLimitA',
        code: 'out-of-reach',
        message: 'The rectifier cannot drive even one part at this current density.',
        value: currentLimitA,
        allowed: `at least ${Number(currentPerPart.toPrecision(4))} A`,
      })
    const holds = Math.min(byCurrent, room)
    const partsPerLoad = Math.min(holds, parts)
    const loads = Math.ceil(parts / partsPerLoad)
    const partsInLastLoad = parts - (loads - 1) * partsPerLoad
    return {
      partsPerLoad,
      limitedBy: limitOf({ byLot: parts <= holds, byRoom: room <= byCurrent, inBarrel: barrel !== undefined }),
      loads,
      currentA: partsPerLoad * currentPerPart,
      partsInLastLoad,
      lastLoadCurrentA: partsInLastLoad * currentPerPart,
      totalMinutes: loads * minutes,
    }
  },
  working({ input: { parts, partAreaDm2, places, barrel, currentDensityAPerDm2, currentLimitA }, output }) {
    const n = (value: number) => texNumber(value, 6)
    return [
      {
        finds: 'Parts in a load',
        formula: String.raw`n = \min\!\left(R,\; \left\lfloor\frac{I_{max}}{a\,j}\right\rfloor,\; Q\right)`,
        filled: String.raw`n = \min\!\left(${n(roomFor(places, barrel) ?? 0)},\; \left\lfloor\frac{${n(currentLimitA)}}{${n(partAreaDm2)} \cdot ${n(currentDensityAPerDm2)}}\right\rfloor,\; ${n(parts)}\right) = ${n(output.partsPerLoad)}`,
      },
      {
        finds: 'Loads',
        formula: String.raw`N = \left\lceil\frac{Q}{n}\right\rceil`,
        filled: String.raw`N = \left\lceil\frac{${n(parts)}}{${n(output.partsPerLoad)}}\right\rceil = ${n(output.loads)}`,
      },
      {
        finds: 'Rectifier current',
        formula: String.raw`I = n\,a\,j`,
        filled: String.raw`I = ${n(output.partsPerLoad)} \cdot ${n(partAreaDm2)} \cdot ${n(currentDensityAPerDm2)} = ${texQuantity(output.currentA, 'A')}`,
      },
    ]
  },
})

interface Barrel {
  readonly volumeL: number
  readonly fillPercent: number
  readonly partsPerL: number
}

/** Parts that racks or barrel have room for; `undefined` unless exactly one of them is given. */
function roomFor(places: number | undefined, barrel: Barrel | undefined): number | undefined {
  if ((places === undefined) === (barrel === undefined)) return undefined
  if (barrel === undefined) return places
  return wholeMultiples(barrel.volumeL * (barrel.fillPercent / 100) * barrel.partsPerL, 1)
}

type Limit = 'places' | 'barrel' | 'current' | 'lot'

function limitOf({ byLot, byRoom, inBarrel }: { byLot: boolean; byRoom: boolean; inBarrel: boolean }): Limit {
  if (byLot) return 'lot'
  if (!byRoom) return 'current'
  return inBarrel ? 'barrel' : 'places'
}
