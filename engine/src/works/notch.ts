/** Half the length of a round-milled notch along the leg surface: half the chord of the cutter at the notch depth, mm. */
export function halfNotchMm({
  cutterDiameterMm,
  depth,
}: {
  readonly cutterDiameterMm: number
  readonly depth: { readonly nominalMm: number }
}): number {
  const r = cutterDiameterMm / 2
  const h = Math.min(depth.nominalMm, r) // deeper than its radius the cutter leaves straight walls
  return Math.sqrt(r ** 2 - (r - h) ** 2)
}
