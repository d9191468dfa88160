import { z } from 'zod'
import { count, list, percent, quantity } from '../../quantity.ts'
import { lineFields } from './fields.ts'

const seconds = (title: string) => quantity(null, 's', title)
const station = (title: string) => count(title, { min: 0 })

export const timetableInput = z.strictObject({
  ...lineFields,
  hoists: count('Carriers', { min: 1, max: 10, help: 'Several need the track' }),
})
export type TimetableInput = z.output<typeof timetableInput>

export const timetableOutput = z.strictObject({
  cycleS: seconds('Cycle'),
  removals: list(
    'Moves of a cycle in the order of the carrier',
    z.strictObject({
      tank: station('Out of station'),
      atS: seconds('Starts at'),
      hoist: count('Carrier, from 0 at the left', { min: 0 }),
    }),
    { max: 40 },
  ),
  lowerBoundS: seconds('No cycle is shorter than'),
  proven: z.boolean().meta({ title: 'Proven: no cycle is shorter' }),
  soaks: list(
    'Soaks',
    z.strictObject({
      tank: station('Station'),
      soakS: seconds('Soak'),
      aboveMinS: seconds('Above the shortest'),
      belowMaxS: seconds('Below the longest').nullable(),
    }),
    { max: 40 },
  ),
  transfers: list(
    'Timed transfers',
    z.strictObject({
      fromTank: station('From leaving tank'),
      toTank: station('To entering tank'),
      takesS: seconds('Takes'),
      maxS: seconds('At most'),
    }),
    { min: 0, max: 20 },
  ),
  loadsOnLine: count('Loads on the line when a cycle begins, the one at station 0 among them', { min: 1 }),
  carrierBusyPercent: percent(null, 'Carrier under way, the busiest of several', { min: 0, max: 100 }),
  slowestTank: station('Step that alone would make the cycle longest'),
  slowestTankS: seconds('Cycle of that step alone'),
  carrierS: seconds('Carriers’ own least cycle: all loaded moves and the shortest empty ways, shared among them'),
  startUp: z
    .strictObject({
      steadyAfterCycles: count('Cycles until the line is full', { min: 0 }),
      firstOutS: seconds('First load is back at station 0 after'),
      moves: list(
        'Moves until then; a cycle leaves out the moves of loads that are not there yet',
        z.strictObject({
          load: count('Load', { min: 1 }),
          tank: station('Out of station'),
          atS: seconds('Starts at'),
        }),
        { max: 16_000 },
      ),
    })
    .meta({ title: 'Start with an empty line' }),
  nodes: count('Orders tried in part or in whole', { min: 0 }),
})
export type TimetableAnswer = z.output<typeof timetableOutput>
