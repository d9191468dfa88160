import { measureArea, measureVolume, type Shape3D } from 'replicad'

/** What a solid holds and covers. */
export interface Measures {
  readonly volumeMm3: number
  readonly areaMm2: number
  /** The faces in the planes of its box: what is seen from outside of a block with bores. */
  readonly outsideAreaMm2: number
  readonly boxMm: readonly [x: number, y: number, z: number]
}

/** How close to its box a face must lie to be one of its outside faces, mm. */
const IN_PLANE_MM = 1e-4

export function measured(solid: Shape3D): Measures {
  const [low, high] = solid.boundingBox.bounds
  return {
    volumeMm3: measureVolume(solid),
    areaMm2: measureArea(solid),
    outsideAreaMm2: outsideArea(solid),
    boxMm: [high[0] - low[0], high[1] - low[1], high[2] - low[2]],
  }
}

function outsideArea(solid: Shape3D): number {
  const whole = solid.boundingBox.bounds
  return solid.faces
    .filter((face) => {
      const [low, high] = face.boundingBox.bounds
      const close = (a: number | undefined, b: number | undefined) => Math.abs((a ?? 0) - (b ?? 0)) < IN_PLANE_MM
      return [0, 1, 2].some(
        (i) => close(low[i], high[i]) && (close(low[i], whole[0][i]) || close(high[i], whole[1][i])),
      )
    })
    .reduce((sum, face) => sum + measureArea(face), 0)
}
