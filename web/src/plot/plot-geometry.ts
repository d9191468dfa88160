/** Pure geometry of plots: scales, ticks, lines. All lengths in the units of the drawing. */

export interface Scale {
  (value: number): number
  readonly domain: readonly [number, number]
  readonly range: readonly [number, number]
}

/** A straight scale; a domain of no width maps to the middle of the range. */
export function scale(domain: readonly [number, number], range: readonly [number, number]): Scale {
  const [d0, d1] = domain
  const [r0, r1] = range
  const at = (value: number) => (d1 === d0 ? (r0 + r1) / 2 : r0 + ((value - d0) / (d1 - d0)) * (r1 - r0))
  return Object.assign(at, { domain, range })
}

/** Round values within a domain, about so many: steps of 1, 2 or 5 times a power of ten. */
export function ticks([low, high]: readonly [number, number], about: number): readonly number[] {
  const span = high - low
  if (!(span > 0) || about < 1) return [low]
  const rough = span / about
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = ([1, 2, 5, 10].find((factor) => factor * power >= rough * (1 - 1e-9)) ?? 10) * power
  const first = Math.ceil(low / step - 1e-9)
  const count = Math.floor(high / step + 1e-9) - first + 1
  return Array.from({ length: Math.max(0, count) }, (_, i) => Number(((first + i) * step).toPrecision(12)))
}

/** A domain that holds all values, widened to whole steps. */
export function domainOf(values: readonly number[], step: number): readonly [number, number] {
  const finite = values.filter(Number.isFinite)
  const low = finite.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY)
  const high = finite.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY)
  if (!Number.isFinite(low)) return [0, step]
  const [from, to] = [Math.floor(low / step) * step, Math.ceil(high / step) * step]
  return from === to ? [from - step, to + step] : [from, to]
}

export type Point = readonly [x: number, y: number]

const figure = (value: number) => String(Math.round(value * 100) / 100)

/** A line through points; `null` lifts the pen. */
export function linePath(points: readonly (Point | null)[]): string {
  let down = false
  return points
    .map((point) => {
      if (point === null) {
        down = false
        return ''
      }
      const command = `${down ? 'L' : 'M'}${figure(point[0])} ${figure(point[1])}`
      down = true
      return command
    })
    .join('')
}

/** The closed area between two lines that run the same way. */
export function bandPath(upper: readonly Point[], lower: readonly Point[]): string {
  return upper.length === 0 ? '' : `${linePath([...upper, ...[...lower].reverse()])}Z`
}

/** From centre to surface, carried over to the whole section: −R … R. */
export function mirrored<T extends { readonly radiusMm: number }>(section: readonly T[]): readonly T[] {
  const other = section.filter(({ radiusMm }) => radiusMm > 0).map((place) => ({ ...place, radiusMm: -place.radiusMm }))
  return [...other.reverse(), ...section]
}

type Reading = readonly [at: number, value: number | null]

/**
 * Fewer readings that draw the same line: of each stretch the first, lowest, highest and last stay, so that no peak is lost; a reading
 * that is missing keeps its gap.
 */
export function thin(readings: readonly Reading[], stretches: number): readonly Reading[] {
  if (readings.length <= stretches * 4) return readings
  const size = Math.ceil(readings.length / stretches)
  const kept: Reading[] = []
  for (let from = 0; from < readings.length; from += size) {
    const end = Math.min(from + size, readings.length)
    const stay = new Set([from, end - 1])
    let [low, high] = [from, from]
    for (let i = from; i < end; i++) {
      const value = readings[i]?.[1]
      if (value === null || value === undefined) {
        const before = readings[i - 1]?.[1]
        if (before !== null) stay.add(i)
        continue
      }
      const [least, most] = [readings[low]?.[1], readings[high]?.[1]]
      if (least === null || least === undefined || value < least) low = i
      if (most === null || most === undefined || value > most) high = i
    }
    stay.add(low).add(high)
    for (const i of [...stay].sort((a, b) => a - b)) {
      const reading = readings[i]
      if (reading !== undefined) kept.push(reading)
    }
  }
  return kept
}
