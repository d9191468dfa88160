/**
 * The peak of a concave function from its falling slope: false position with the Illinois correction, bisection where the
 * slope is not finite. Stops as soon as the function can rise by no more than `within` above the place found.
 *
 * @returns the end of the interval where the peak lies outside it
 */
export function concavePeak(slope: (x: number) => number, from: number, to: number, within = 0.05): number {
  let [low, high] = [from, to]
  let slopeLow = slope(low)
  if (!(slopeLow > 0) || !(high > low)) return low
  let slopeHigh = slope(high)
  if (slopeHigh >= 0) return high
  let side = 0
  for (let step = 0; step < 200; step++) {
    const straight = (low * slopeHigh - high * slopeLow) / (slopeHigh - slopeLow)
    const x = straight > low && straight < high && step < 100 ? straight : low + 0.5 * (high - low)
    if (!(x > low && x < high)) return x
    const s = slope(x)
    if (Math.abs(s) * (s > 0 ? high - x : x - low) <= within) return x
    if (s > 0) {
      low = x
      slopeLow = s
      if (side === 1) slopeHigh *= 0.5
      side = 1
    } else {
      high = x
      slopeHigh = s
      if (side === -1) slopeLow *= 0.5
      side = -1
    }
  }
  return low + 0.5 * (high - low)
}

/**
 * How far from `start` the function has fallen by `drop` to `2·drop`, going in steps of one sign; or the `end` of its
 * domain if that comes first. The function must fall all the way.
 */
export function whereFallen(
  f: (x: number) => number,
  { start, level, drop, step, end }: { start: number; level: number; drop: number; step: number; end: number },
): number {
  const direction = Math.sign(step)
  const clipped = (x: number) => (direction > 0 ? Math.min(x, end) : Math.max(x, end))
  const fall = (x: number) => level - f(x)
  let near = start
  let far = clipped(start + step)
  for (let stride = step; fall(far) < drop; stride *= 2) {
    if (far === end) return end
    near = far
    far = clipped(far + stride)
  }
  for (let i = 0; i < 100 && fall(far) > 2 * drop; i++) {
    const middle = near + 0.5 * (far - near)
    if (middle === near || middle === far) return far
    if (fall(middle) < drop) near = middle
    else far = middle
  }
  return far
}
