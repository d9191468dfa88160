import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type GateModel, logRocked, logRockedBound, logSteady } from './gate-opening.ts'
import { HIGH_PRECISION } from './gate-opening-reference.testing.ts'

const rocked = (model: GateModel, means: readonly number[]) => Math.exp(logRocked(model, means).log)
const steady = (model: GateModel, means: readonly number[]) => Math.exp(logSteady(model, means).log)
const zeros = (n: number) => new Array<number>(n).fill(0)
const unlimited = (halfWindowDeg: number): GateModel => ({ halfWindowDeg, sigmaDeg: 1, commonSigmaDeg: 1, rockDeg: 60 })

const models = fc.record({
  halfWindowDeg: fc.double({ min: 0.2, max: 6, noNaN: true }),
  sigmaDeg: fc.double({ min: 0.1, max: 3, noNaN: true }),
  commonSigmaDeg: fc.double({ min: 0.05, max: 3, noNaN: true }),
  rockDeg: fc.double({ min: 0, max: 10, noNaN: true }),
})
const meansOf = fc
  .array(fc.integer({ min: -3, max: 3 }), { minLength: 1, maxLength: 11 })
  .map((s) => s.map((n) => 5 * n))
const runs = { seed: 21, numRuns: 150 }

describe('opening integrals against published values', () => {
  // Zar 1999, Tukey table, row of infinite degrees of freedom, as read in a public program; printed to three decimals.
  const table: [number, readonly number[]][] = [
    [0.1, [2.326, 2.902, 3.24, 3.478, 3.661, 3.808, 3.931, 4.037, 4.129, 4.211]],
    [0.05, [2.772, 3.314, 3.633, 3.858, 4.03, 4.17, 4.286, 4.387, 4.474, 4.552]],
    [0.01, [3.643, 4.12, 4.403, 4.603, 4.757, 4.882, 4.987, 5.078, 5.157, 5.227]],
  ]
  for (const [alpha, points] of table)
    it.each(points.map((q, i) => [i + 2, q] as const))(
      `%d gates rocked without limit stay within ${alpha} at %d σ (studentized range, ν = ∞, Zar 1999)`,
      (n, q) => {
        // The printed point is right to half a unit of its third decimal: the tabled probability lies between its neighbours.
        expect(1 - rocked(unlimited((q - 0.0005) / 2), zeros(n))).toBeGreaterThanOrEqual(alpha - 1e-6)
        expect(1 - rocked(unlimited((q + 0.0005) / 2), zeros(n))).toBeLessThanOrEqual(alpha + 1e-6)
      },
    )

  // Control chart constant d₂, the mean range of n standard normal samples: read in a public table of unbiasing constants.
  it.each([
    [2, 1.128],
    [3, 1.693],
    [5, 2.326],
    [7, 2.704],
    [11, 3.173],
    [24, 3.895],
  ])('the mean range of %d gates is %d σ (d₂, table of unbiasing constants)', (n, d2) => {
    const step = 0.02
    let mean = 0
    for (let width = step / 2; width < 12; width += step) mean += step * (1 - rocked(unlimited(width / 2), zeros(n)))
    expect(Math.abs(mean - d2)).toBeLessThan(6e-4) // three printed decimals; midpoint rule
  })

  // Areas under the normal curve from 0 to z, four printed decimals.
  it.each([
    [0.5, 0.1915],
    [1, 0.3413],
    [1.96, 0.475],
    [2.49, 0.4936],
  ])('one gate is within %d σ twice %d of the time, however σ is shared out (normal table)', (z, area) => {
    for (const [sigmaDeg, commonSigmaDeg] of [
      [0.6, 0.8],
      [0.8, 0.6],
      [1, 0],
      [0, 1],
    ] as const) {
      const p = steady({ halfWindowDeg: z, sigmaDeg, commonSigmaDeg, rockDeg: 0 }, [0])
      expect(Math.abs(p - 2 * area)).toBeLessThan(1.01e-4)
    }
  })
})

describe('opening integrals against independent reckoning', () => {
  it.each(HIGH_PRECISION.map((row, i) => [i, row] as const))(
    'row %d agrees with 40-digit quadrature to 1e-11',
    (_, [halfWindowDeg, sigmaDeg, commonSigmaDeg, rockDeg, step, differences, stated, statedRocked]) => {
      const model = { halfWindowDeg, sigmaDeg, commonSigmaDeg, rockDeg }
      const means = differences.map((s: number) => s * step)
      if (stated > 0) expect(Math.abs(steady(model, means) / stated - 1)).toBeLessThan(1e-11)
      expect(Math.abs(rocked(model, means) / statedRocked - 1)).toBeLessThan(1e-11)
    },
  )

  it('reaches 3e-217, sharp edges and narrow windows (40-digit quadrature)', () => {
    const model = { halfWindowDeg: 2, sigmaDeg: 0.7, commonSigmaDeg: 1, rockDeg: 1 }
    expect(Math.abs(rocked(model, [25, 0, 0, 0, 0]) / 3.05285255598627e-217 - 1)).toBeLessThan(1e-11)
    const narrow = { halfWindowDeg: 0.02, sigmaDeg: 4, commonSigmaDeg: 1, rockDeg: 5 }
    expect(Math.abs(rocked(narrow, [0, 1, 0, -1, 2]) / 4.78412364143394e-10 - 1)).toBeLessThan(1e-11)
    const sharp = { halfWindowDeg: 1, sigmaDeg: 0.001, commonSigmaDeg: 1, rockDeg: 5 }
    expect(Math.abs(steady(sharp, [0, 0, 0.5]) / 0.532670480978686 - 1)).toBeLessThan(1e-11)
    expect(
      logRocked({ halfWindowDeg: 1.2, sigmaDeg: 1.5, commonSigmaDeg: 1, rockDeg: 0.5 }, [48, 40, -3]).log,
    ).toBeCloseTo(Math.log(4.50228523258054) - 354 * Math.LN10, 9)
  })

  it('agrees with simulation where simulation can see, within five of its standard errors', () => {
    const random = seeded(2026)
    const trials = 200_000
    for (const [model, means] of [
      [{ halfWindowDeg: 2.2, sigmaDeg: 0.9, commonSigmaDeg: 0.8, rockDeg: 1.5 }, [0, 0, 0, 0, 0]],
      [{ halfWindowDeg: 2.2, sigmaDeg: 0.9, commonSigmaDeg: 0.8, rockDeg: 1.5 }, [4, 0, 0]],
      [{ halfWindowDeg: 1.5, sigmaDeg: 1.2, commonSigmaDeg: 2, rockDeg: 4 }, [2, -1, 0, 2]],
    ] as const) {
      let [opensSteady, opensRocked] = [0, 0]
      for (let trial = 0; trial < trials; trial++) {
        const places = means.map((mean) => mean + model.sigmaDeg * normal(random))
        const [low, high] = [Math.min(...places), Math.max(...places)]
        const shift = model.commonSigmaDeg * normal(random)
        if (low + shift >= -model.halfWindowDeg && high + shift <= model.halfWindowDeg) opensSteady++
        // A shift must exist in [−a − low, a − high] and in [−w, w].
        const from = Math.max(-model.halfWindowDeg - low, -model.rockDeg)
        if (from <= Math.min(model.halfWindowDeg - high, model.rockDeg)) opensRocked++
      }
      for (const [opened, p] of [
        [opensSteady, steady(model, means)],
        [opensRocked, rocked(model, means)],
      ] as const) {
        expect(p).toBeGreaterThan(1e-4)
        expect(Math.abs(opened / trials - p)).toBeLessThan(5 * Math.sqrt((p * (1 - p)) / trials))
      }
    }
  })
})

describe('opening integrals as they must behave', () => {
  it('do not tell left from right, nor one order of discs from another', () => {
    fc.assert(
      fc.property(models, meansOf, (model, means) => {
        for (const log of [logSteady, logRocked]) {
          const here = log(model, means)
          expect(here.converged).toBe(true)
          near(
            log(
              model,
              means.map((mean) => -mean),
            ).log,
            here.log,
          )
          near(log(model, [...means.slice(1), ...means.slice(0, 1)]).log, here.log)
        }
      }),
      runs,
    )
  })

  it('fall as one disc moves off, the others in place', () => {
    fc.assert(
      fc.property(models, fc.integer({ min: 2, max: 11 }), (model, n) => {
        for (const log of [logSteady, logRocked]) {
          const path = [0, 1, 2, 3, 5, 8].map((mean) => log(model, [mean, ...zeros(n - 1)]).log)
          for (const [i, value] of path.entries())
            if (i > 0) expect(value).toBeLessThanOrEqual((path[i - 1] ?? 0) + 1e-9)
        }
      }),
      runs,
    )
  })

  it('rocked, open at least as easily as at any one shift within the play', () => {
    fc.assert(
      fc.property(models, meansOf, fc.double({ min: -1, max: 1, noNaN: true }), (model, means, share) => {
        const shift = share * model.rockDeg
        const fixed = logSteady(
          { ...model, commonSigmaDeg: 0 },
          means.map((mean) => mean + shift),
        ).log
        // Below e⁻¹⁰⁰⁰ the rocked integral is not followed.
        if (fixed > -900)
          expect(logRocked(model, means).log).toBeGreaterThanOrEqual(fixed - 1e-9 * Math.max(1, Math.abs(fixed)))
      }),
      runs,
    )
  })

  it('open more easily with fewer discs, with more play and with a wider window', () => {
    fc.assert(
      fc.property(models, meansOf, (model, means) => {
        const here = logRocked(model, means).log
        if (means.length > 1) expect(logRocked(model, means.slice(1)).log).toBeGreaterThanOrEqual(here - 1e-9)
        expect(logRocked({ ...model, rockDeg: model.rockDeg + 1 }, means).log).toBeGreaterThanOrEqual(here - 1e-9)
        expect(logRocked({ ...model, halfWindowDeg: model.halfWindowDeg + 1 }, means).log).toBeGreaterThanOrEqual(
          here - 1e-9,
        )
      }),
      runs,
    )
  })

  it('rocked, never above the bound from the outermost gates', () => {
    fc.assert(
      fc.property(models, meansOf, (model, means) => {
        // The quadrature may be 1e-9 above the truth.
        expect(logRocked(model, means).log).toBeLessThanOrEqual(logRockedBound(model, means) + 1e-9)
      }),
      runs,
    )
  })

  it('without scatter are certain or impossible, on both sides of the limit, and small scatter comes near', () => {
    const still = { halfWindowDeg: 2, sigmaDeg: 0, commonSigmaDeg: 0, rockDeg: 3 }
    expect(rocked(still, [4, 0])).toBe(1)
    expect(rocked(still, [4.001, 0])).toBe(0)
    expect(rocked(still, [5, 4])).toBe(1)
    expect(rocked(still, [5.001, 4])).toBe(0)
    expect(steady(still, [2, -2])).toBe(1)
    expect(steady(still, [2.001, -2])).toBe(0)
    const nearly = { ...still, sigmaDeg: 1e-6, commonSigmaDeg: 1e-6 }
    expect(rocked(nearly, [3.99, 0])).toBeCloseTo(1, 9)
    expect(rocked(nearly, [4.01, 0])).toBe(0)
    expect(steady(nearly, [1.99, -1.99])).toBeCloseTo(1, 9)
    const turning = { ...still, commonSigmaDeg: 1.5 }
    expect(steady({ ...turning, sigmaDeg: 1e-6 }, [1, 0])).toBeCloseTo(steady(turning, [1, 0]), 6)
    expect(rocked({ ...still, sigmaDeg: 0.5, rockDeg: 1e-9 }, [1, 0, 0])).toBeCloseTo(
      rocked({ ...still, sigmaDeg: 0.5, rockDeg: 0 }, [1, 0, 0]),
      8,
    )
  })
})

function near(log: number, stated: number): void {
  if (log === stated) return // −Infinity among them
  expect(Math.abs(log - stated)).toBeLessThan(1e-9 * Math.max(1, Math.abs(stated)))
}

/** A small generator for the simulation: mulberry32. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

const normal = (random: () => number) => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
