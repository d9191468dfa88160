import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { discsInTheWay, fullTurnDeg, gateAngles, madeUpPair, turningWords, windowMarks } from './turning.ts'

const mechanism = fc.record({
  values: fc.integer({ min: 2, max: 12 }),
  stepDeg: fc.double({ min: 1, max: 30, noNaN: true }),
})
const steps = (values: number) =>
  fc.array(fc.integer({ min: 1 - values, max: values - 1 }), { minLength: 1, maxLength: 24 })
const cases = mechanism.chain((m) => steps(m.values).map((differences) => ({ ...m, differences })))

describe('a made-up lock and key', () => {
  it('have values that exist, and differ by the steps asked for', () => {
    fc.assert(
      fc.property(cases, ({ values, differences }) => {
        const { lock, key } = madeUpPair(differences, values)
        for (const value of [...lock, ...key]) {
          expect(value).toBeGreaterThanOrEqual(0)
          expect(value).toBeLessThan(values)
        }
        expect(lock.map((value, disc) => value - (key[disc] ?? 0))).toEqual(differences)
      }),
      { seed: 41 },
    )
  })
})

describe('the key being turned', () => {
  it('at the stop every gate is off by its difference in steps (x = s · step)', () => {
    fc.assert(
      fc.property(cases, ({ values, stepDeg, differences }) => {
        const pair = madeUpPair(differences, values)
        const gates = gateAngles(pair, { values, stepDeg, keyDeg: fullTurnDeg({ values, stepDeg }) })
        for (const [disc, angle] of gates.entries()) expect(angle).toBeCloseTo((differences[disc] ?? 0) * stepDeg, 9)
      }),
      { seed: 42 },
    )
  })

  it('no gate turns back, and before the key is turned none stands under the sidebar', () => {
    const pair = madeUpPair([0, 1, -1, 0], 6)
    const at = (keyDeg: number) => gateAngles(pair, { values: 6, stepDeg: 15, keyDeg })
    expect(discsInTheWay(at(0), 5)).toEqual([0, 1, 2, 3])
    for (let deg = 0; deg < 96; deg++)
      for (const [disc, angle] of at(deg + 1).entries()) expect(angle).toBeGreaterThanOrEqual(at(deg)[disc] ?? 0)
  })

  it('says which discs hold the sidebar out', () => {
    expect(turningWords([], 9)).toMatch(/All 9 gates stand in line/)
    expect(turningWords([2], 9)).toBe('Disc 3 holds the sidebar out: it cannot drop.')
    expect(turningWords([2, 6], 9)).toBe('Disc 3 and 7 hold the sidebar out: it cannot drop.')
    expect(turningWords([0, 1, 2, 3, 4], 9)).toMatch(/5 of 9 discs hold/)
  })
})

describe('the window of a gate in its row', () => {
  const row = { halfWindowDeg: 5, sigmaDeg: 1, reachDeg: 20 }
  it('in line it stands about the middle, its sure part three standard deviations narrower on both sides', () => {
    expect(windowMarks(0, row)).toEqual({
      window: { from: 0.375, to: 0.625 },
      sure: { from: 0.45, to: 0.55 },
      spread: { from: 0.425, to: 0.575 },
      state: 'sure',
    })
  })
  it.each([
    [2, 'sure'],
    [2.1, 'perhaps'],
    [-8, 'perhaps'],
    [8.1, 'out'],
  ])('%f° off with a window of ±5° and σ = 1° it is %s', (angle, state) => {
    expect(windowMarks(angle, row).state).toBe(state)
  })
  it('out of the picture only its side is told; a spread wider than the window leaves no sure part', () => {
    expect(windowMarks(-60, row)).toEqual({ beyond: 'left', state: 'out' })
    expect(windowMarks(0, { ...row, sigmaDeg: 2 }).sure).toBeUndefined()
  })
})
