import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import {
  CUT_MATERIALS,
  cuttingData,
  DRILL_MATERIALS,
  drillingPractice,
  specificForces,
} from '../materials/cutting-data.ts'
import { choice, count, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { pecks } from './pecks.ts'

const drillingFormulas = source({
  id: 'reference.drilling-formulas',
  status: 'handbook',
  citation:
    'Common drilling formulas, public one-page reference: power D/4 · f · v · kc, feed force 0.7 · D/2 · f · kc, time (L + h)/vf',
  note: 'The feed force is marked approximate there.',
})

const peckPractice = source({
  id: 'practice.peck-drilling',
  status: 'common practice (no source)',
  citation:
    'Peck drilling: none up to 3 diameters deep, then one diameter at a time, half a diameter from 7 diameters on',
})

const drillTimeExercise = source({
  id: 'exercise.twist-drill-time',
  status: 'handbook',
  citation: 'M. P. Groover, exercise on drilling time, as worked in a public question collection',
  place: '10 mm drill, 60 mm deep, 118°, 30 m/min, 0.25 mm/rev',
  note: 'Printed: 954.9 rev/min, 238 mm/min, approach 3 mm, 0.265 min. The approach is (D/2) tan(90° − 118°/2).',
})

const magnesiumExample = source({
  id: 'book.kalpakjian-drilling',
  status: 'handbook',
  citation:
    'S. Kalpakjian, S. R. Schmid, Manufacturing Processes for Engineering Materials, drilling example, as rerun in a public textbook companion',
  place: 'page 632: magnesium alloy, 10 mm drill, 0.2 mm/rev, 800 rev/min, 0.5 W·s/mm³',
  note: 'The book prints 210 mm³/s; power and torque follow from it: 105 W, 1.25 N·m.',
})

const wornTool = source({
  id: 'book.dietrich-tschaetsch-wear-factor',
  status: 'handbook',
  citation:
    'J. Dietrich, H. Tschätsch, Praxis der Zerspantechnik, 11th edition 2014, as coded in a public script that cites it',
  place: 'wear factor 1.3 on the specific cutting force',
})

/** What a worn drill takes over a sharp one, unless given. */
const WEAR = 1.3
/** Feed of a twist drill as a share of its diameter, and the range it stays in, mm per turn. */
const FEED_SHARE = 0.018
const FEED_RANGE = [0.02, 0.4] as const

/**
 * Settings and loads of drilling one bore: turns and feed, time with its pecks, torque, thrust and power from the specific
 * cutting force of the chip that each of the two lips takes.
 */
export const drill = calculation({
  id: 'body.drill',
  title: 'Drilling one bore',
  summary: 'Spindle speed, feed, pecks and time for a bore, and the torque, thrust and power it takes.',
  equation: String.raw`M = K\,\frac{k_c f d^2}{8},\quad k_c = k_{c11} h^{-m},\quad h = \tfrac{f}{2}\sin\kappa`,
  assumes: [
    'a twist drill with two lips, drilling into the full, as worn as the wear factor says; chisel edge and friction in the bore are not in the torque',
    'thrust after the approximate formula 0.7 · d/2 · f · kc',
  ],
  sources: [drillingFormulas, specificForces, wornTool, drillingPractice, peckPractice],
  cautions: [movingMachinery],
  input: z.strictObject({
    diameterMm: quantity('d', 'mm', 'Drill diameter', { min: 0.3, max: 100, trusted: [1, 40] }),
    depthMm: quantity('l', 'mm', 'Depth at full diameter', { min: 0.1, max: 1000 }),
    material: choice(
      'Material',
      CUT_MATERIALS,
      Object.fromEntries(CUT_MATERIALS.map((m) => [m, cuttingData[m].title])),
    ),
    tool: choice('Drill', DRILL_MATERIALS, { 'high-speed-steel': 'High-speed steel', carbide: 'Carbide' }),
    cuttingSpeedMPerMin: quantity('v', 'm/min', 'Cutting speed', {
      min: 0.1,
      max: 500,
      help: 'Left out: the usual one for material and drill',
    }).optional(),
    feedMmPerRev: quantity('f', 'mm', 'Feed per turn', {
      min: 0.001,
      max: 2,
      help: 'Left out: about 0.018 of the diameter',
    }).optional(),
    pointAngleDeg: quantity(String.raw`2\kappa`, '°', 'Point angle', {
      min: 60,
      max: 179,
      help: 'Left out: 118°',
    }).optional(),
    standOffMm: quantity('a', 'mm', 'Feed before the point touches', {
      min: 0,
      max: 50,
      help: 'Left out: 2 mm',
    }).optional(),
    rapidMPerMin: quantity(null, 'm/min', 'Rapid traverse', {
      min: 0.5,
      max: 100,
      help: 'Left out: 10 m/min',
    }).optional(),
    maxRpm: quantity(null, '1/min', 'Fastest turn of the spindle', { min: 10, max: 100_000 }).optional(),
    wearFactor: quantity('K', '', 'Force of the worn drill over that of a sharp one', {
      min: 1,
      max: 3,
      help: 'Left out: 1.3; a sharp drill is 1',
    }).optional(),
    toolLifeM: quantity(null, 'm', 'Drilled length a drill lasts for', { min: 0.01, max: 1000 }).optional(),
    specificForceMPa: quantity('k_{c11}', 'MPa', 'Specific cutting force at 1 mm', {
      min: 1,
      max: 10_000,
      help: 'With the exponent, in place of those of the material',
    }).optional(),
    exponent: quantity('m', '', 'Exponent of the chip thickness', { min: 0, max: 0.9 }).optional(),
  }),
  output: z.strictObject({
    spindleRpm: quantity('n', '1/min', 'Spindle speed'),
    cuttingSpeedMPerMin: quantity('v', 'm/min', 'Cutting speed'),
    feedMmPerRev: quantity('f', 'mm', 'Feed per turn'),
    feedMmPerMin: quantity('v_f', 'mm/min', 'Feed rate'),
    approachMm: quantity('A', 'mm', 'Length of the point'),
    chipThicknessMm: quantity('h', 'mm', 'Chip thickness'),
    specificForceMPa: quantity('k_c', 'MPa', 'Specific cutting force'),
    torqueNm: quantity('M', 'N·m', 'Torque'),
    thrustN: quantity('F', 'N', 'Thrust'),
    powerKw: quantity('P', 'kW', 'Power at the spindle'),
    removalMm3PerMin: quantity('Q', 'mm³/min', 'Metal removed'),
    pecks: count('Pecks', { min: 1 }),
    peckDepthMm: quantity(null, 'mm', 'Depth of a later peck'),
    cuttingMinutes: quantity(null, 'min', 'Time under feed'),
    minutes: quantity('t', 'min', 'Time for the bore, with clearing of chips'),
    boresPerTool: count('Bores a drill lasts for').optional(),
  }),
  examples: [
    {
      title: '10 mm, 60 mm deep, 30 m/min, 0.25 mm: 954.9 turns, 238 mm/min, 0.265 min (Groover, exercise)',
      source: drillTimeExercise,
      input: {
        diameterMm: 10,
        depthMm: 60,
        material: 'medium-carbon-steel',
        tool: 'high-speed-steel',
        cuttingSpeedMPerMin: 30,
        feedMmPerRev: 0.25,
        standOffMm: 0,
      },
      output: { spindleRpm: 954.9, feedMmPerMin: 238, approachMm: 3, cuttingMinutes: 0.265, removalMm3PerMin: 18692 },
      tolerance: { relative: 0.005 },
      reason: '238.7 mm/min is cut to 238 there and carried on',
    },
    {
      title: '10 mm in magnesium, 0.2 mm, 800 turns, 0.5 W·s/mm³: 1.25 N·m, 0.105 kW (Kalpakjian)',
      source: magnesiumExample,
      input: {
        diameterMm: 10,
        depthMm: 20,
        material: 'brass',
        tool: 'high-speed-steel',
        cuttingSpeedMPerMin: 0.8 * Math.PI * 10,
        feedMmPerRev: 0.2,
        specificForceMPa: 500,
        exponent: 0,
        wearFactor: 1,
      },
      output: { spindleRpm: 800, torqueNm: 1.25, powerKw: 0.105, removalMm3PerMin: 12_600 },
      tolerance: { relative: 0.005 },
      reason: 'rounded to three figures',
    },
  ],
  run(input, { notice }) {
    const { diameterMm: d, depthMm, material, tool } = input
    if ((input.specificForceMPa === undefined) !== (input.exponent === undefined))
      return refuse({
        path: input.exponent === undefined ? 'exponent' : 'specificForceMPa',
        code: 'missing',
        message: 'Specific cutting force and exponent belong together: give both, or neither.',
        allowed: 'both or neither',
      })
    const data = cuttingData[material]
    const kc11 = input.specificForceMPa ?? data.specificForceMPa
    const m = input.exponent ?? data.exponent
    const wanted = input.cuttingSpeedMPerMin ?? data.drillSpeedMPerMin[tool]
    const n = Math.min((1000 * wanted) / (Math.PI * d), input.maxRpm ?? Number.POSITIVE_INFINITY) // m/min → 1/min
    const v = (n * Math.PI * d) / 1000
    const f = input.feedMmPerRev ?? Math.min(FEED_RANGE[1], Math.max(FEED_RANGE[0], FEED_SHARE * d))
    const kappa = ((input.pointAngleDeg ?? 118) / 2) * (Math.PI / 180)
    const h = (f / 2) * Math.sin(kappa)
    const kc = kc11 * h ** -m
    const K = input.wearFactor ?? WEAR
    const approachMm = d / (2 * Math.tan(kappa))
    const peck = pecks({ diameterMm: d, depthMm })
    const cuttingMinutes = (depthMm + approachMm + (input.standOffMm ?? 2)) / (f * n)
    const clearing = (2 * peck.retractsMm) / (1000 * (input.rapidMPerMin ?? 10)) // there and back, m/min → mm/min
    if (n < (1000 * wanted) / (Math.PI * d))
      notice('The spindle is too slow for this cutting speed: it runs at its fastest.')
    if (depthMm > 20 * d)
      notice('Deeper than 20 diameters: a twist drill drifts; deep-hole drilling has its own rules.')
    return {
      spindleRpm: n,
      cuttingSpeedMPerMin: v,
      feedMmPerRev: f,
      feedMmPerMin: f * n,
      approachMm,
      chipThicknessMm: h,
      specificForceMPa: kc,
      torqueNm: (K * kc * f * d ** 2) / 8000, // N·mm → N·m
      thrustN: K * 0.7 * (d / 2) * f * kc,
      powerKw: (K * kc * f * d * v) / 240_000,
      removalMm3PerMin: (Math.PI / 4) * d ** 2 * f * n,
      pecks: peck.count,
      peckDepthMm: peck.stepMm,
      cuttingMinutes,
      minutes: cuttingMinutes + clearing,
      ...(input.toolLifeM === undefined
        ? {}
        : { boresPerTool: Math.floor(((1000 * input.toolLifeM) / depthMm) * (1 + 1e-12)) }), // m → mm
    }
  },
  working({ input, output }) {
    const { diameterMm: d } = input
    const f = texNumber(output.feedMmPerRev)
    const K = texNumber(input.wearFactor ?? WEAR)
    return [
      {
        finds: 'Spindle speed',
        formula: String.raw`n = \frac{1000\,v}{\pi d}`,
        filled: String.raw`n = \frac{1000 \cdot ${texNumber(output.cuttingSpeedMPerMin)}}{\pi \cdot ${texNumber(d)}} = ${texQuantity(output.spindleRpm, '1/min')}`,
      },
      {
        finds: 'Specific cutting force',
        formula: String.raw`k_c = k_{c11}\, h^{-m}`,
        filled: String.raw`k_c = ${texNumber(input.specificForceMPa ?? cuttingData[input.material].specificForceMPa)} \cdot ${texNumber(output.chipThicknessMm)}^{-${texNumber(input.exponent ?? cuttingData[input.material].exponent)}} = ${texQuantity(output.specificForceMPa, 'MPa')}`,
      },
      {
        finds: 'Torque',
        formula: String.raw`M = K\,\frac{k_c f d^2}{8}`,
        filled: String.raw`M = ${K} \cdot \frac{${texNumber(output.specificForceMPa)} \cdot ${f} \cdot ${texNumber(d)}^2}{8000} = ${texQuantity(output.torqueNm, 'N·m')}`,
      },
      {
        finds: 'Thrust (approximate)',
        formula: String.raw`F = K \cdot 0.7\,\tfrac{d}{2} f k_c`,
        filled: String.raw`F = ${K} \cdot 0.7 \cdot \frac{${texNumber(d)}}{2} \cdot ${f} \cdot ${texNumber(output.specificForceMPa)} = ${texQuantity(output.thrustN, 'N')}`,
      },
      {
        finds: 'Power at the spindle',
        formula: String.raw`P = K\,\frac{k_c f d v}{240\,000}`,
        filled: String.raw`P = ${K} \cdot \frac{${texNumber(output.specificForceMPa)} \cdot ${f} \cdot ${texNumber(d)} \cdot ${texNumber(output.cuttingSpeedMPerMin)}}{240000} = ${texQuantity(output.powerKw, 'kW')}`,
      },
      {
        finds: 'Time under feed',
        formula: String.raw`t = \frac{l + A + a}{f n}`,
        filled: String.raw`t = \frac{${texNumber(input.depthMm)} + ${texNumber(output.approachMm)} + ${texNumber(input.standOffMm ?? 2)}}{${f} \cdot ${texNumber(output.spindleRpm)}} = ${texQuantity(output.cuttingMinutes, 'min')}`,
      },
    ]
  },
})
