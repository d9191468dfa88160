import { z } from 'zod'
import { DRILL_MATERIALS } from '../materials/cutting-data.ts'
import { DEPOSIT_METALS } from '../materials/deposits.ts'
import { QUENCH_BATHS } from '../materials/heat-properties.ts'
import { choice, count, list, percent, quantity, text } from '../quantity.ts'
import { barHeat } from './bar-heat.ts'

export const LINE_PURPOSES = ['station', 'clean', 'acid', 'rinse', 'nickel', 'chromium', 'dry'] as const

const platingLine = z
  .strictObject({
    tanks: list(
      'Stations in the order of the process; the first loads and unloads',
      z
        .strictObject({
          name: text('Name', { max: 60 }),
          purpose: choice('Purpose', LINE_PURPOSES, {
            station: 'Loading and unloading',
            clean: 'Cleaning',
            acid: 'Acid',
            rinse: 'Rinse',
            nickel: 'Nickel',
            chromium: 'Chromium',
            dry: 'Drying',
          }),
          atM: quantity('x', 'm', 'Place along the track', { min: -1000, max: 1000 }),
          minS: quantity(null, 's', 'Soak at least', {
            min: 0,
            max: 100_000,
            help: 'In acid and in plating tanks the design sets the time; this is left out there',
          }).optional(),
          maxS: quantity(null, 's', 'Soak at most', { min: 0, max: 100_000, help: 'Left out: no limit' }).optional(),
          places: count('Equal tanks side by side', { min: 1, max: 8 }).optional(),
        })
        .meta({ title: 'Station' }),
      { min: 2, max: 40 },
    ),
    hoists: count('Carriers', { min: 1, max: 4 }),
    gapM: quantity(null, 'm', 'Carriers keep apart, middle to middle', { min: 0, max: 100 }),
    speedMPerS: quantity('v', 'm/s', 'Speed of a carrier', { min: 0.01, max: 10 }),
    liftS: quantity(null, 's', 'Lift and drip', { min: 0, max: 600 }),
    lowerS: quantity(null, 's', 'Lower', { min: 0, max: 600 }),
    overPlatePercent: percent(null, 'Longer in a plating tank than its deposit asks, at most', { min: 0, max: 100 }),
  })
  .meta({ title: 'Tanks and carriers' })
  .superRefine(({ tanks }, context) => {
    if (tanks[0]?.purpose !== 'station' || tanks.slice(1).some(({ purpose }) => purpose === 'station'))
      context.addIssue({
        code: 'custom',
        path: ['tanks'],
        message: 'The first station loads and unloads, and no other does.',
        params: { code: 'contradiction', allowed: 'station first, once' },
      })
    tanks.forEach(({ name, minS, maxS }, i) => {
      if (minS !== undefined && maxS !== undefined && maxS < minS)
        context.addIssue({
          code: 'custom',
          path: ['tanks', i, 'maxS'],
          message: `The longest soak in ${name} is shorter than the shortest.`,
          params: { code: 'contradiction', allowed: `at least ${minS} s` },
        })
    })
  })

export type PlatingLine = z.output<typeof platingLine>

const substance = text('Substance', { max: 60 })
const platingBath = z
  .strictObject({
    metal: choice('Metal', DEPOSIT_METALS),
    conductivitySPerM: quantity(null, 'S/m', 'Conductivity', { min: 0.01, max: 200 }),
    polarizationOhmCm2: quantity(null, 'Ω·cm²', 'Slope of the overpotential over the current density', {
      min: 0,
      max: 1000,
    }),
    anodeToAnodeMm: quantity(null, 'mm', 'From anode to anode', { min: 50, max: 5000 }),
    rackPitchMm: quantity(null, 'mm', 'Pitch of the places on a rack', { min: 20, max: 2000 }),
    anodeEfficiencyPercent: percent(null, 'Anode efficiency', { min: 0, max: 110, help: '0 for insoluble anodes' }),
    dragOutMlPerDm2: quantity(null, 'mL/dm²', 'Bath carried out', { min: 0, max: 100 }),
    metalGPerL: quantity(null, 'g/L', 'Metal in the bath', { min: 0.01, max: 500 }),
    salts: list(
      'Salts',
      z.strictObject({ name: substance, gPerL: quantity(null, 'g/L', 'In the bath', { min: 0, max: 1000 }) }),
      { min: 0, max: 12 },
    ),
    additives: list(
      'Additives by ampere hours',
      z.strictObject({
        name: substance,
        mlPerKiloampereHour: quantity(null, 'mL/kAh', 'Used up', { min: 0, max: 100_000 }),
      }),
      { min: 0, max: 12 },
    ),
    rinse: z
      .strictObject({
        stages: count('Rinse tanks in counter-flow', { min: 1, max: 5 }),
        targetGPerL: quantity(null, 'g/L', 'Metal wanted in the last rinse', { min: 1e-6, max: 100 }),
      })
      .meta({ title: 'Rinse' }),
    source: text('Where the figures come from'),
  })
  .meta({ title: 'Bath' })
export type PlatingBath = z.output<typeof platingBath>

/** What the works has: bars in stock, saw, drill, press, furnaces, plating line, working hours. Shared by all designs and orders. */
export const Works = z
  .strictObject({
    schema: z.literal('haspwright/works/1').meta({ title: 'File format' }),
    name: text('Works', { max: 80 }),
    bars: list(
      'Bars in stock',
      z
        .strictObject({
          form: text('Bar', { max: 60 }),
          lengthMm: quantity(null, 'mm', 'Length', { min: 50, max: 20_000 }),
          quantity: count('Bars', { min: 0, max: 100_000 }),
          costMinor: count('Cost of a bar, in the smallest coin', { min: 1, max: 1_000_000_000 }).optional(),
          heat: text('Heat of the steel, as on its certificate', { max: 40 }).optional(),
          remnant: z.boolean().meta({ title: 'Left over from an earlier order: used first' }).optional(),
        })
        .meta({ title: 'Bar' }),
      { min: 0, max: 200 },
    ),
    heats: list('Heats of steel in stock', barHeat, { min: 0, max: 200 }).optional(),
    saw: z
      .strictObject({
        kerfMm: quantity('k', 'mm', 'Kerf', { min: 0, max: 10 }),
        endTrimMm: quantity(null, 'mm', 'End trim, its cut included', { min: 0, max: 200 }),
        gripMm: quantity(null, 'mm', 'Left in the grip', { min: 0, max: 500 }),
        cm2PerMin: quantity(null, 'cm²/min', 'Cutting rate', { min: 0.1, max: 500 }),
        source: text('Where the cutting rate comes from'),
        keepFromMm: quantity(null, 'mm', 'Shortest remnant worth keeping', { min: 1, max: 20_000 }).optional(),
        bladeLifeCm2: quantity(null, 'cm²', 'Section area a blade cuts in its life', { min: 1, max: 1e7 }).optional(),
      })
      .meta({ title: 'Saw' }),
    drill: z
      .strictObject({
        powerKw: quantity(null, 'kW', 'Spindle power', { min: 0.1, max: 100 }),
        maxRpm: quantity(null, '1/min', 'Highest speed', { min: 100, max: 60_000 }),
        tool: choice('Drills', DRILL_MATERIALS, { 'high-speed-steel': 'High-speed steel', carbide: 'Carbide' }),
        toolLifeM: quantity(null, 'm', 'Drilled length a drill lasts for', {
          min: 0.01,
          max: 1000,
          help: 'From the shop log; without it tool changes are not counted',
        }).optional(),
        travelMm: z
          .strictObject({
            x: quantity(null, 'mm', 'Travel in X', { min: 50, max: 10_000 }),
            y: quantity(null, 'mm', 'Travel in Y', { min: 50, max: 10_000 }),
            z: quantity(null, 'mm', 'Travel in Z', { min: 50, max: 10_000 }),
          })
          .optional()
          .meta({ title: 'Travel, the work in its middle' }),
      })
      .meta({ title: 'Drilling machine' }),
    press: z
      .strictObject({
        forceKn: quantity(null, 'kN', 'Press force', { min: 1, max: 10_000 }),
        dieEdgeRadiusMm: quantity(null, 'mm', 'Radius of the die edges or rollers', {
          min: 0.5,
          max: 100,
          help: 'Left out: the diameter of the bar',
        }).optional(),
        dieFriction: quantity(null, '', 'Friction at the die edges', {
          min: 0,
          max: 0.6,
          help: 'Left out: 0.15, oiled',
        }).optional(),
      })
      .meta({ title: 'Bending press' }),
    furnace: z
      .strictObject({
        maxChargeKg: quantity(null, 'kg', 'Largest charge', { min: 0.1, max: 50_000 }),
        basketDm3: quantity(null, 'dm³', 'Basket volume', { min: 0.1, max: 50_000 }),
        fillPercent: percent(null, 'Share of the basket that may be filled', { min: 1, max: 100 }),
        heatUpMinutes: quantity(null, 'min', 'Heating up, quench, wash and change together', { min: 0, max: 2880 }),
        transferSeconds: quantity(null, 's', 'From leaving the furnace into the bath, timed', {
          min: 0.1,
          max: 600,
        }).optional(),
        uniformityK: quantity(null, 'K', 'Farthest from its setting anywhere in a charge, surveyed', {
          min: 0,
          max: 200,
        }).optional(),
        quenchTank: z
          .strictObject({
            bath: choice('Bath', QUENCH_BATHS, { oil: 'Quench oil', polymer: 'Polymer in water', water: 'Water' }),
            bathKg: quantity(null, 'kg', 'Mass of the bath', { min: 1, max: 1e6 }),
            limitC: quantity(null, '°C', 'Bath may reach', {
              min: 1,
              max: 400,
              help: 'From the data sheet of the oil, well under its flash point',
            }),
            basketKg: quantity(null, 'kg', 'Mass of the empty basket', { min: 0, max: 10_000 }),
          })
          .optional()
          .meta({ title: 'Quench tank' }),
      })
      .meta({ title: 'Hardening furnace' }),
    plating: z
      .strictObject({
        rackPositions: count('Places on a rack', { min: 1, max: 10_000 }),
        rectifierA: quantity(null, 'A', 'Rectifier limit', { min: 1, max: 50_000 }),
        line: platingLine.optional(),
        baths: list('Baths', platingBath, { min: 0, max: 8 }).optional(),
      })
      .meta({ title: 'Plating line' }),
    bake: z
      .strictObject({
        oven: text('Oven', { max: 60 }),
        setC: quantity(null, '°C', 'Set temperature', { min: 100, max: 300 }),
        piecesPerLoad: count('Locks in an oven load', { min: 1, max: 100_000 }),
        loading: choice('Racks go in', ['lot', 'rack'], { lot: 'all of a lot together', rack: 'each as it comes' }),
      })
      .meta({ title: 'Bake oven' }),
    hoursPerDay: quantity(null, 'h', 'Working hours a day', { min: 1, max: 24 }),
    daysPerWeek: quantity(null, 'd', 'Working days a week', { min: 1, max: 7 }),
  })
  .meta({ title: 'Works', description: 'The resources of a works: stock, machines, furnaces, plating line, hours.' })
  .superRefine(({ heats = [] }, context) => {
    const seen = new Set<string>()
    heats.forEach(({ number, form }, i) => {
      if (seen.has(`${number} ${form}`))
        context.addIssue({
          code: 'custom',
          path: ['heats', i, 'number'],
          message: `Heat ${number} of ${form} stands in the stock twice.`,
          params: { code: 'contradiction' },
        })
      seen.add(`${number} ${form}`)
    })
  })
export type Works = z.output<typeof Works>
