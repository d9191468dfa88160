import type { PlatingBath, PlatingLine } from '@haspwright/engine'

/**
 * Common practice (no source), taken only where the works file states no line: tanks in their usual order, a carrier of usual speed.
 * The page says that it is assumed, and lets each figure be changed; nothing of it is stored.
 */
export const ASSUMED_LINE: PlatingLine = {
  tanks: [
    { name: 'Load, unload', purpose: 'station', atM: 0, minS: 90 },
    { name: 'Alkaline soak', purpose: 'clean', atM: 1.2, minS: 180, maxS: 600 },
    { name: 'Anodic cleaning', purpose: 'clean', atM: 2.4, minS: 60, maxS: 180 },
    { name: 'Rinse', purpose: 'rinse', atM: 3.6, minS: 20, maxS: 60 },
    { name: 'Acid dip', purpose: 'acid', atM: 4.8 },
    { name: 'Rinse', purpose: 'rinse', atM: 6, minS: 20, maxS: 60 },
    { name: 'Nickel', purpose: 'nickel', atM: 9, places: 4 },
    { name: 'Rinse', purpose: 'rinse', atM: 12, minS: 20, maxS: 60 },
    { name: 'Chromium', purpose: 'chromium', atM: 13.2 },
    { name: 'Last rinse', purpose: 'rinse', atM: 14.4, minS: 20, maxS: 60 },
  ],
  hoists: 1,
  gapM: 1.8,
  speedMPerS: 0.5,
  liftS: 6,
  lowerS: 6,
  overPlatePercent: 15,
}

/** The nickel bath as far as the spread needs it, common practice (no source): taken only where the works file states none. */
export const ASSUMED_BATH: Pick<
  PlatingBath,
  'anodeToAnodeMm' | 'rackPitchMm' | 'conductivitySPerM' | 'polarizationOhmCm2'
> = { anodeToAnodeMm: 500, rackPitchMm: 130, conductivitySPerM: 10, polarizationOhmCm2: 0 }
