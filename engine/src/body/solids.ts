/** A round bore with a flat floor, drilled square into a face. */
export interface Bore {
  readonly diameterMm: number
  readonly depthMm: number
  /** Goes right through: two mouths and no floor. Blind unless said. */
  readonly through?: boolean
}

/** A block with its bores. */
export interface DrilledBody {
  readonly widthMm: number
  readonly thicknessMm: number
  readonly heightMm: number
  readonly bores: readonly Bore[]
}

/** What a drilled block holds and covers. */
export interface DrilledSolid {
  readonly volumeMm3: number
  /** Everything a liquid wets: outside, walls of the bores, floors of the blind ones, mm². */
  readonly areaMm2: number
  /** The six faces without the mouths of the bores, mm²: what is plated when the bores stay bare. */
  readonly outsideAreaMm2: number
}

/**
 * Volume and skin of a block with round bores. Two simplifications: the point left by the drill is taken as a flat floor,
 * and where two bores cross, what they share is taken off twice from the volume and the wall that is missing there is still
 * counted. So the volume comes out a little small and the skin a little large.
 *
 * @returns mm², mm³. Bores that take more than the block has give a volume below zero: the caller holds them against the walls first.
 */
export function drilledBody({ widthMm: w, thicknessMm: t, heightMm: h, bores }: DrilledBody): DrilledSolid {
  let volumeMm3 = w * t * h
  let outsideAreaMm2 = 2 * (w * t + w * h + t * h)
  let boredMm2 = 0
  for (const { diameterMm: d, depthMm, through = false } of bores) {
    const mouth = (Math.PI / 4) * d * d
    volumeMm3 -= mouth * depthMm
    outsideAreaMm2 -= mouth * (through ? 2 : 1)
    boredMm2 += Math.PI * d * depthMm + (through ? 0 : mouth)
  }
  return { volumeMm3, areaMm2: outsideAreaMm2 + boredMm2, outsideAreaMm2 }
}
