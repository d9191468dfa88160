import type { Design } from '@haspwright/engine'

export interface SizeLimits {
  readonly minMm: number
  readonly maxMm: number
}

/** Limits of a hole before plating, so that it is within its limits after: a coating of t closes it by 2t. */
export function holeBeforePlating(finished: SizeLimits, { inBores }: Design['coating']): SizeLimits | null {
  const minMm = finished.minMm + (2 * inBores.maxUm) / 1000 // µm → mm
  const maxMm = finished.maxMm + (2 * inBores.minUm) / 1000
  return minMm <= maxMm ? { minMm, maxMm } : null
}

/** Limits of the leg over its coating: it grows by twice the thickness. */
export function legOverCoating({ shackle: { barDiameter }, coating: { onShackle } }: Design): SizeLimits {
  return {
    minMm: barDiameter.nominalMm - barDiameter.minusMm + (2 * onShackle.minUm) / 1000, // µm → mm
    maxMm: barDiameter.nominalMm + barDiameter.plusMm + (2 * onShackle.maxUm) / 1000,
  }
}

export interface Bore {
  readonly name: string
  readonly diameter: Design['body']['barrelBore']['diameter']
  readonly depthMm: number
  readonly finished: SizeLimits
  readonly before: SizeLimits | null
}

/** Every bore of the body with its finished and its machined limits, in the order they are drilled. */
export function bores({ body, coating }: Design): readonly Bore[] {
  return (
    [
      ['Barrel bore', body.barrelBore],
      ['Heel bore', body.heelBore],
      ['Toe bore', body.toeBore],
      ['Cross bores', body.crossBore],
    ] as const
  ).map(([name, { diameter, depthMm }]) => {
    const finished = {
      minMm: diameter.nominalMm - diameter.minusMm,
      maxMm: diameter.nominalMm + diameter.plusMm,
    }
    return { name, diameter, depthMm, finished, before: holeBeforePlating(finished, coating) }
  })
}
