/**
 * Mean thickness in µm to plate so that the thinnest significant place holds the least asked for.
 *
 * `thinnestToMean` is the ratio of the thinnest place to the mean, measured on the part: where the nickel is thinnest is not
 * computed here. Above 0, at most 1; `undefined` otherwise.
 */
export function meanThicknessFor({
  leastUm,
  thinnestToMean,
}: {
  leastUm: number
  thinnestToMean: number
}): number | undefined {
  return thinnestToMean > 0 && thinnestToMean <= 1 && leastUm > 0 ? leastUm / thinnestToMean : undefined
}
