import { z } from 'zod'
import { DRILL_MATERIALS } from '../materials/cutting-data.ts'
import { QUENCH_BATHS } from '../materials/heat-properties.ts'
import { choice, count, list, percent, quantity, text } from '../quantity.ts'

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
export type Works = z.output<typeof Works>
