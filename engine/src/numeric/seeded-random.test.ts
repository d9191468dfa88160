import { describe, expect, it } from 'vitest'
import { SeededRandom } from './seeded-random.ts'

const DRAWS = 200_000
const take = (seed: number, n: number) => {
  const random = new SeededRandom(seed)
  return Array.from({ length: n }, () => random.uniform())
}

const oneByOne = (random: SeededRandom) => Array.from({ length: DRAWS }, () => random.normal())
const byTheArray = (random: SeededRandom) => {
  const values = new Float64Array(DRAWS)
  random.fillNormal(values, DRAWS, 1)
  return [...values]
}

describe('seeded random numbers', () => {
  it('are the same for the same seed and others for another', () => {
    expect(take(1, 20)).toEqual(take(1, 20))
    expect(take(1, 20)).not.toEqual(take(2, 20))
  })

  it('are uniform: mean 1/2, variance 1/12, every tenth as full, neighbours unrelated (within five standard errors)', () => {
    const values = take(7, DRAWS)
    const mean = values.reduce((a, b) => a + b, 0) / DRAWS
    expect(Math.abs(mean - 0.5)).toBeLessThan(5 / Math.sqrt(12 * DRAWS))
    const variance = values.reduce((a, b) => a + (b - 0.5) ** 2, 0) / DRAWS
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(5 * Math.sqrt(1 / 180 / DRAWS))
    for (let tenth = 0; tenth < 10; tenth++) {
      const n = values.filter((value) => Math.floor(value * 10) === tenth).length
      expect(Math.abs(n - DRAWS / 10)).toBeLessThan(5 * Math.sqrt(DRAWS * 0.09))
    }
    const covariance = values.slice(1).reduce((a, b, i) => a + (b - 0.5) * ((values[i] ?? 0) - 0.5), 0) / DRAWS
    expect(Math.abs(covariance)).toBeLessThan(5 / 12 / Math.sqrt(DRAWS))
  })

  it.each([
    ['one by one', () => oneByOne(new SeededRandom(11))],
    ['by the array', () => byTheArray(new SeededRandom(11))],
  ])('are normal %s: mean 0, variance 1, kurtosis 3, 2.28 % beyond two (within five standard errors)', (_, draw) => {
    const values = draw()
    const moment = (k: number) => values.reduce((a, b) => a + b ** k, 0) / DRAWS
    expect(Math.abs(moment(1))).toBeLessThan(5 / Math.sqrt(DRAWS))
    expect(Math.abs(moment(2) - 1)).toBeLessThan(5 * Math.sqrt(2 / DRAWS))
    expect(Math.abs(moment(4) - 3)).toBeLessThan(5 * Math.sqrt(96 / DRAWS))
    const beyond = values.filter((value) => value > 2).length / DRAWS
    expect(Math.abs(beyond - 0.0227501)).toBeLessThan(5 * Math.sqrt(0.0227501 / DRAWS))
  })
})
