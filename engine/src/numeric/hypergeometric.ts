/** Weights smaller than this share of what is summed can no longer change a digit of it. */
const NEGLIGIBLE = 1e-25

/**
 * Probability of at most `x` marked items in a sample drawn without putting back: from `population` items of which `marked`
 * are marked, `sample` are drawn. Whole numbers up to 10⁷, marked and sample at most the population.
 *
 * Weights relative to the likeliest count, by the ratio of neighbours, summed outward and divided by their total: no
 * factorials, nothing underflows that counts, relative error about 1e-12. The library's own sum starts from the probability of
 * exactly x and gives 0 where 1 is right once that number underflows.
 */
export function hypergeometricCumulative(
  x: number,
  { population: N, marked: K, sample: n }: { population: number; marked: number; sample: number },
): number {
  const least = Math.max(0, n + K - N)
  const most = Math.min(n, K)
  if (x < least) return 0
  if (x >= most) return 1
  const likeliest = Math.min(most, Math.max(least, Math.floor(((n + 1) * (K + 1)) / (N + 2))))
  let total = 1
  let below = likeliest <= x ? 1 : 0
  let weight = 1
  for (let k = likeliest; k < most && weight > NEGLIGIBLE * total; k++) {
    weight *= ((K - k) * (n - k)) / ((k + 1) * (N - K - n + k + 1))
    total += weight
    if (k + 1 <= x) below += weight
  }
  weight = 1
  // Downward the sum goes on until it has passed x: a small probability keeps its digits.
  for (let k = likeliest; k > least && weight > NEGLIGIBLE * (k > x ? 0 : below); k--) {
    weight *= (k * (N - K - n + k)) / ((K - k + 1) * (n - k + 1))
    total += weight
    if (k - 1 <= x) below += weight
  }
  return Math.min(1, below / total)
}
