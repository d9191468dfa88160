/** Words that keep a distance from one another by how they are made, by number. */
export interface DistanceCode {
  /** How many words there are. */
  readonly size: number
  /** The word of a number: a letter 0 … letters − 1 for each place. */
  word(number: number): number[]
}

/** Larger codes are not numbered: words drawn by chance then hardly ever come near each other. */
const LARGEST = 2 ** 32

/**
 * Words of so many places and letters, any two of which differ in at least `distance` places.
 *
 * Distance 1: every word. Distance 2: the sum of the letters is 0 modulo their number, letters^(length − 1) words. Distance =
 * length: one letter repeated. Between: values of the polynomials of degree below length − distance + 1 over the prime field
 * of the largest prime not above `letters` (Reed–Solomon, one place more for the leading coefficient). All but the last with
 * fewer letters than given reach the Singleton bound letters^(length − distance + 1).
 *
 * @returns `undefined` where none of these is at hand
 */
export function distanceCode({
  length,
  letters,
  distance,
}: {
  length: number
  letters: number
  distance: number
}): DistanceCode | undefined {
  if (letters < 1) return undefined
  if (distance <= 1) return numbered(letters ** length, (n) => digits(n, { letters, length }))
  if (distance >= length)
    return { size: distance > length ? 1 : letters, word: (n) => new Array<number>(length).fill(n) }
  if (distance === 2)
    return numbered(letters ** (length - 1), (n) => {
      const word = digits(n, { letters, length: length - 1 })
      const sum = word.reduce((total, letter) => total + letter, 0)
      return [...word, (letters - (sum % letters)) % letters]
    })
  const prime = largestPrime(letters)
  if (length > prime + 1) return undefined
  const terms = length - distance + 1
  return numbered(prime ** terms, (n) => {
    const coefficients = digits(n, { letters: prime, length: terms })
    return Array.from({ length }, (_, point) =>
      point === prime
        ? (coefficients[0] ?? 0)
        : coefficients.reduce((value, coefficient) => (value * point + coefficient) % prime, 0),
    )
  })
}

function numbered(size: number, word: (number: number) => number[]): DistanceCode | undefined {
  return size > LARGEST ? undefined : { size, word }
}

function digits(number: number, { letters, length }: { letters: number; length: number }): number[] {
  let rest = number
  return Array.from({ length }, () => {
    const digit = rest % letters
    rest = (rest - digit) / letters
    return digit
  })
}

const largestPrime = (most: number) => [11, 7, 5, 3, 2].find((prime) => prime <= most) ?? 1

/**
 * Most words of one level under a master, no two of which open each other's lock: keys that leave the master in just `weight`
 * of `length` discs, C(length, weight) · (values − 1)^weight at the best weight. The master's value and the others are a
 * partly ordered set in which these are the largest set without order, so it is exact for distance 1.
 */
export function mostUnderMaster({ length, values }: { length: number; values: number }): {
  words: number
  weight: number
} {
  let best = { words: 1, weight: 0 }
  let choose = 1
  for (let weight = 0; weight <= length; weight++) {
    const words = choose * (values - 1) ** weight
    if (words >= best.words) best = { words, weight }
    choose = (choose * (length - weight)) / (weight + 1)
  }
  return best
}

/**
 * A bound on words of which any two differ in at least `distance` places: the least of those of Singleton, Hamming and Plotkin.
 * No code, and so no chart, holds more.
 */
export function mostAtDistance({
  length,
  values,
  distance,
}: {
  length: number
  values: number
  distance: number
}): number {
  if (distance > length) return 1
  const singleton = values ** (length - distance + 1)
  let ball = 0
  let choose = 1
  for (let radius = 0; radius <= Math.floor((distance - 1) / 2); radius++) {
    ball += choose * (values - 1) ** radius
    choose = (choose * (length - radius)) / (radius + 1)
  }
  const hamming = Math.floor(values ** length / ball + 1e-9)
  const share = values * distance - (values - 1) * length // Plotkin's bound holds where this is above 0
  const plotkin = share > 0 ? Math.floor((values * distance) / share) : Number.POSITIVE_INFINITY
  return Math.min(singleton, hamming, plotkin)
}
