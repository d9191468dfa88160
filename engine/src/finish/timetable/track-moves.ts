import type { Track } from './line.ts'

/** Loaded moves from each station to the next, the last back to station 0, and empty ones between all, s, as places and speeds give them. */
export function movesOnTrack({ placesM, speedMPerS, liftS, lowerS }: Omit<Track, 'gapM'>): {
  loadedMoveS: number[]
  emptyMoveS: number[][]
} {
  const travelS = (i: number, j: number) => Math.abs((placesM[i] ?? 0) - (placesM[j] ?? 0)) / speedMPerS
  return {
    loadedMoveS: placesM.map((_, i) => liftS + travelS(i, (i + 1) % placesM.length) + lowerS),
    emptyMoveS: placesM.map((_, i) => placesM.map((_other, j) => travelS(i, j))),
  }
}
