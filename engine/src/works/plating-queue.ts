import { linePlan } from './plating-line.ts'
import { type Racked, rackLoad } from './rack-load.ts'

/**
 * Racks that a number of locks fills, and how long after another each leaves the line: its cycle, or, where the tanks of the line are
 * not known, the time of the slowest plating tank; or why that is not known.
 */
export function platingQueue(
  racked: Racked,
): { ok: true; racks: number; minutesApart: number } | { ok: false; because: string } {
  const load = rackLoad(racked)
  if (!load.ok) return load
  const line = linePlan(racked.design, racked.works)
  return { ok: true, racks: load.output.loads, minutesApart: line.ok ? line.answer.cycleS / 60 : load.input.minutes }
}
