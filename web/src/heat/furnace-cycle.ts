import type { Design, Works } from '@haspwright/engine'
import type { HardeningWindow } from './heat-inputs.ts'

/** A stretch of the recipe: straight from where the last one ended. */
export interface CycleStep {
  readonly name: string
  readonly minutes: number
  readonly toC: number
  /** Neither temperature nor course is set: drawn dashed. */
  readonly open?: true
}

/** The recipe of a charge as a course of temperature over time. */
export interface Cycle {
  readonly startC: number
  readonly steps: readonly CycleStep[]
  /** Minutes of heating, quench, wash and change that the works states beyond what heating takes; below 0 it states too little. */
  readonly restMinutes: number
}

const ROOM_C = 20
/** A quench is over in seconds; on a scale of hours it is upright. */
const QUENCH_MINUTES = 0.5

/** Heat-up, soak, quench, wash, temper: temperatures and soaks from design and steel, the whole as long as the plan counts it. */
export function furnaceCycle(
  { heat }: Design,
  window: HardeningWindow,
  { heatUpMinutes, temperHeatUpMinutes, works }: { heatUpMinutes: number; temperHeatUpMinutes: number; works: Works },
): Cycle {
  const restMinutes = works.furnace.heatUpMinutes - heatUpMinutes - temperHeatUpMinutes - QUENCH_MINUTES
  return {
    startC: ROOM_C,
    restMinutes,
    steps: [
      { name: 'Heat', minutes: heatUpMinutes, toC: window.setC },
      { name: 'Soak', minutes: window.soakMinutes, toC: window.setC },
      { name: 'Quench', minutes: QUENCH_MINUTES, toC: heat.bathC },
      { name: 'Wash, change', minutes: Math.max(0, restMinutes), toC: ROOM_C, open: true },
      { name: 'Heat', minutes: temperHeatUpMinutes, toC: heat.temperC },
      { name: 'Temper', minutes: heat.temperMinutes, toC: heat.temperC },
    ],
  }
}

/** A step with where it begins and ends. */
export interface PlacedStep extends CycleStep {
  readonly fromMinute: number
  readonly toMinute: number
  readonly fromC: number
}

/** The steps one after the other, the first at a given minute. */
export function placedSteps({ startC, steps }: Cycle, startMinute = 0): readonly PlacedStep[] {
  let [minute, temperatureC] = [startMinute, startC]
  return steps.map((step) => {
    const placed = { ...step, fromMinute: minute, toMinute: minute + step.minutes, fromC: temperatureC }
    minute = placed.toMinute
    temperatureC = step.toC
    return placed
  })
}

/**
 * At which minute of a record the recipe begins, so that both come to temperature together: the record's clock starts whenever somebody
 * started it. Zero where the record never comes to temperature.
 */
export function recipeStart(cycle: Cycle, soak: 'Soak' | 'Temper', fromMinute: number | undefined): number {
  const begins = placedSteps(cycle).find(({ name }) => name === soak)?.fromMinute
  return begins === undefined || fromMinute === undefined ? 0 : fromMinute - begins
}
