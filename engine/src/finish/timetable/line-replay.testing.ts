import { expect } from 'vitest'
import { placeAt } from '../../numeric/piecewise-linear.ts'
import type { CarrierPaths } from './carrier-paths.ts'
import type { Track } from './line.ts'

/** One stay of one load in one station, in absolute time. */
export interface Stay {
  readonly load: number
  readonly tank: number
  readonly fromS: number
  readonly toS: number
}

const NEAR = 1e-5

/** No tank holds more loads than it has places; the next load comes down when the one before is up and out. */
export function expectRoomInTanks(
  stays: readonly Stay[],
  { liftS, lowerS }: Pick<Track, 'liftS' | 'lowerS'>,
  places: (tank: number) => number,
) {
  for (const stay of stays) {
    const others = stays.filter(
      (other) =>
        other !== stay &&
        other.tank === stay.tank &&
        other.fromS - lowerS < stay.fromS - lowerS + NEAR &&
        other.toS + liftS > stay.fromS - lowerS + NEAR,
    )
    expect(others.length, `tank ${stay.tank} when load ${stay.load} comes`).toBeLessThan(places(stay.tank))
  }
}

/** At every corner of any path the carriers are a gap apart, in order, and none is faster than it can be; the cycle closes. */
export function expectCarriersApart(
  { carriers }: CarrierPaths,
  { gapM, speedMPerS }: Track,
  cycleS: number,
  fastestLoadedMPerS = speedMPerS,
) {
  const times = [...new Set(carriers.flatMap(({ points }) => points.map(({ atS }) => atS)))]
  for (const atS of times)
    carriers.slice(1).forEach(({ points }, k) => {
      const left = carriers[k]?.points ?? []
      expect(placeAt(points, atS) - placeAt(left, atS)).toBeGreaterThanOrEqual(gapM - NEAR)
    })
  for (const { points } of carriers) {
    expect(placeAt(points, 0)).toBeCloseTo(placeAt(points, cycleS), 4)
    points.slice(1).forEach((to, k) => {
      const from = points[k] ?? to
      const moved = Math.abs(to.place - from.place)
      expect(moved).toBeLessThanOrEqual(fastestLoadedMPerS * (to.atS - from.atS) + NEAR)
    })
  }
}

/** Every carrier is at its tank when it lifts, and at the next when it has lowered. */
export function expectCarriersThere(
  { carriers, places }: CarrierPaths,
  moves: readonly { from: number; to: number; hoist: number; atS: number; endsS: number }[],
  cycleS: number,
) {
  for (const { from, to, hoist, atS, endsS } of moves) {
    const path = carriers[hoist]?.points ?? []
    expect(placeAt(path, atS)).toBeCloseTo(places[from] ?? Number.NaN, 4)
    expect(placeAt(path, endsS - cycleS * Math.floor(endsS / cycleS))).toBeCloseTo(places[to] ?? Number.NaN, 4)
  }
}
