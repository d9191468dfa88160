import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { fit } from './fit.ts'
import { limitsOf, stepOf } from './limits.ts'
import { DEVIATION_STEPS_MM, SHAFT_DEVIATIONS_UM, TOLERANCE_STEPS_MM, TOLERANCES_UM } from './limits-and-fits-table.ts'

function fitOf(nominalMm: number, hole: string, shaft: string) {
  const result = answer(fit, { nominalMm, hole, shaft })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return { ...result.output, notices: result.notices }
}

describe('body.fit against published fits', () => {
  // Nominal, hole, shaft; hole upper and lower, shaft upper and lower, clearance smallest and largest, all µm.
  it.each([
    [25, 'H7', 'g6', 21, 0, -7, -20, 7, 41, 'FIT-1, public table; another page says 28: it is wrong'],
    [25, 'H7', 'p6', 21, 0, 35, 22, -35, -1, 'FIT-2, public table'],
    [25, 'H7', 'n6', 21, 0, 28, 15, -28, 6, 'FIT-3, public table'],
    [25, 'H7', 'h6', 21, 0, 0, -13, 0, 34, 'FIT-4, public page of fits'],
    [29, 'H7', 'h8', 21, 0, 0, -33, 0, 54, 'FIT-5, public program of fits'],
    [20, 'H6', 'e7', 13, 0, -40, -61, 40, 74, 'FIT-6, Bhandari example 3.1'],
    [20, 'H7', 's6', 21, 0, 48, 35, -48, -14, 'FIT-7, Bhandari example 3.2'],
    [50, 'H7', 's6', 25, 0, 59, 43, -59, -18, 'FIT-8, Bhandari example 3.3'],
    [10, 'H7', 'h6', 15, 0, 0, -9, 0, 24, 'FIT-10, rows of the table'],
    [16, 'H8', 'f7', 27, 0, -16, -34, 16, 61, 'FIT-11, rows of the table'],
    [30, 'H7', 'p6', 21, 0, 35, 22, -35, -1, 'FIT-12, 30 mm is in 18 to 30'],
    [12, 'H7', 'k6', 18, 0, 12, 1, -12, 17, 'FIT-13, rows of the table'],
    [5, 'H7', 'g6', 12, 0, -4, -12, 4, 24, 'FIT-15, rows of the table'],
    [10, 'H7', 'g6', 15, 0, -5, -14, 5, 29, 'FIT-15, rows of the table'],
  ])(
    '%f %s/%s gives hole %i/%i, shaft %i/%i, clearance %i to %i (%s)',
    (nominal, hole, shaft, ES, EI, es, ei, cMin, cMax) => {
      expect(fitOf(nominal, hole, shaft)).toMatchObject({
        hole: { upperUm: ES, lowerUm: EI },
        shaft: { upperUm: es, lowerUm: ei },
        clearanceMinUm: cMin,
        clearanceMaxUm: cMax,
        notices: [],
      })
    },
  )

  it.each([
    [30, 'H8', 'hole', 33, 0],
    [30, 'f8', 'shaft', -20, -53],
    [50, 'p6', 'shaft', 42, 26],
  ] as const)('%f %s (%s) is %i/%i (FIT-9, public table)', (nominal, written, kind, upperUm, lowerUm) => {
    expect(limitsOf(written, kind, nominal)).toMatchObject({ upperUm, lowerUm })
  })

  it('18 to 30 mm P7 has the upper deviation −22 + 8 = −14 (Machine Drawing, note to Table 15.3)', () => {
    expect(limitsOf('P7', 'hole', 25)).toMatchObject({ upperUm: -14, lowerUm: -35 })
  })

  it('45 mm ZB6 is −237/−253, k8 is 39/0, js8 ±19.5, za8 219/180, m6 25/9 (open data set of DIN ISO 286, its tests)', () => {
    expect(limitsOf('ZB6', 'hole', 45)).toMatchObject({ upperUm: -237, lowerUm: -253 })
    expect(limitsOf('k8', 'shaft', 45)).toMatchObject({ upperUm: 39, lowerUm: 0 })
    expect(limitsOf('js8', 'shaft', 45)).toMatchObject({ upperUm: 19.5, lowerUm: -19.5 })
    expect(limitsOf('za8', 'shaft', 45)).toMatchObject({ upperUm: 219, lowerUm: 180 })
    expect(limitsOf('m6', 'shaft', 45)).toMatchObject({ upperUm: 25, lowerUm: 9 })
  })

  it('the corrigendum to ISO 286-2 stands: A13 of 355 mm +2090, E8 of 120 mm +126, R10 of 30 mm −28, f9 of 315 mm −186', () => {
    expect(limitsOf('A13', 'hole', 355)).toMatchObject({ upperUm: 2090 })
    expect(limitsOf('E8', 'hole', 120)).toMatchObject({ upperUm: 126 })
    expect(limitsOf('R10', 'hole', 30)).toMatchObject({ upperUm: -28 })
    expect(limitsOf('f9', 'shaft', 315)).toMatchObject({ lowerUm: -186 })
  })

  it('M6 from 250 to 315 mm is −9, the printed exception', () => {
    expect(limitsOf('M6', 'hole', 300)).toMatchObject({ upperUm: -9 })
    expect(limitsOf('M7', 'hole', 300)).toMatchObject({ upperUm: 0 })
  })
})

describe('the tables of ISO 286', () => {
  it.each(
    // Table 15.4 of Machine Drawing: D is the geometric mean of the step; the tables round these.
    [
      ['f', (D: number) => 5.5 * D ** 0.41],
      ['e', (D: number) => 11 * D ** 0.41],
      ['d', (D: number) => 16 * D ** 0.44],
      ['g', (D: number) => 2.5 * D ** 0.34],
    ] as const,
  )(
    'shaft $0 follows its formula within 8 % or 1.5 µm in every step: no slip of the pen (Machine Drawing, Table 15.4)',
    (letter, formula) => {
      for (const [i, upTo] of TOLERANCE_STEPS_MM.entries()) {
        const mean = Math.sqrt((TOLERANCE_STEPS_MM[i - 1] ?? 1) * upTo)
        const value = SHAFT_DEVIATIONS_UM[letter]?.[stepOf(DEVIATION_STEPS_MM, upTo)] ?? Number.NaN
        expect(Math.abs(value - formula(mean)), `${letter} up to ${upTo}`).toBeLessThanOrEqual(
          Math.max(1.5, 0.08 * value),
        )
      }
    },
  )

  it.each([
    ['t', '7', 0.63],
    ['u', '7', 1],
    ['v', '7', 1.25],
    ['x', '7', 1.6],
    ['y', '7', 2],
    ['z', '7', 2.5],
    ['za', '8', 3.15],
    ['zb', '9', 4],
    ['zc', '10', 5],
  ] as const)(
    'shaft $0 is IT$1 + $2 D within 4 % or 3.5 µm over 24 mm: no slip of the pen (Machine Drawing, Table 15.4)',
    (letter, grade, factor) => {
      for (const [i, upTo] of DEVIATION_STEPS_MM.entries()) {
        if (upTo <= 24) continue
        const mean = Math.sqrt((DEVIATION_STEPS_MM[i - 1] ?? 1) * upTo)
        const formula = (TOLERANCES_UM[grade]?.[stepOf(TOLERANCE_STEPS_MM, upTo)] ?? 0) + factor * mean
        const value = SHAFT_DEVIATIONS_UM[letter]?.[i] ?? Number.NaN
        expect(Math.abs(value - formula), `${letter} up to ${upTo}: ${value}, formula ${formula}`).toBeLessThan(
          Math.max(3.5, 0.04 * formula),
        )
      }
    },
  )

  it('are as far as the page in docs says: each letter there, each end of its sizes, no letter left out', () => {
    const page = readFileSync(new URL('../../../docs/limits-and-fits.md', import.meta.url), 'utf8')
    const rows = [...page.matchAll(/^\| ([a-zA-Z0-9, ]+) \| (all sizes|over (\d+) mm|up to (\d+) mm) \|$/gm)].flatMap(
      ([, written = '', , over, upTo]) =>
        written.split(', ').map((name) => ({ name, over: Number(over ?? 0), upTo: Number(upTo ?? 500) })),
    )
    const letters = new Set(rows.map(({ name }) => name.replace(/\d/, '').toLowerCase()))
    expect([...letters].sort()).toEqual([...new Set([...Object.keys(SHAFT_DEVIATIONS_UM), 'j', 'js'])].sort())
    for (const { name, over, upTo } of rows) {
      const written = /\d$/.test(name) ? name : `${name}6`
      const kind = name === name.toUpperCase() ? 'hole' : 'shaft'
      const isKnown = (nominal: number) => !('problem' in limitsOf(written, kind, nominal))
      for (const step of DEVIATION_STEPS_MM)
        for (const nominal of [step, step + 0.001].filter((size) => size <= 500))
          expect(isKnown(nominal), `${written} at ${nominal}`).toBe(nominal > over && nominal <= upTo)
      expect(isKnown(1), `${written} at 1`).toBe(over < 1)
    }
  })

  it('hold every grade from 01 to 18 in every step of sizes', () => {
    for (const grade of ['01', '0', ...Array.from({ length: 18 }, (_, i) => `${i + 1}`)])
      for (const size of TOLERANCE_STEPS_MM) {
        const limits = limitsOf(`h${grade}`, 'shaft', size)
        expect('problem' in limits ? limits.problem : limits.upperUm - limits.lowerUm).toBe(
          TOLERANCES_UM[grade]?.[stepOf(TOLERANCE_STEPS_MM, size)],
        )
      }
  })

  it('rise with the size, and the grades with their number', () => {
    for (const row of [...Object.values(SHAFT_DEVIATIONS_UM), ...Object.values(TOLERANCES_UM)])
      for (const [i, value] of row.entries()) if (i > 0) expect(value ?? 0).toBeGreaterThanOrEqual(row[i - 1] ?? 0)
    for (const values of Object.values(SHAFT_DEVIATIONS_UM)) expect(values.length).toBeLessThanOrEqual(25)
    for (const grade of ['01', '0']) expect(TOLERANCES_UM[grade]).toHaveLength(13)
  })

  it('let H7/p6 and P7/h6 fit alike, and so for every letter from k on (what Δ is for)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 3.001, max: 500, noNaN: true }),
        fc.constantFrom('p', 'r', 's', 'u', 'z', 'zc'),
        fc.constantFrom(5, 6, 7),
        (nominal, letter, grade) => {
          const basis = fitOf(nominal, `H${grade}`, `${letter}${grade - 1}`)
          const mirrored = fitOf(nominal, `${letter.toUpperCase()}${grade}`, `h${grade - 1}`)
          // Δ is printed rounded to 0.5 or 1 µm.
          expect(Math.abs(basis.clearanceMaxUm - mirrored.clearanceMaxUm)).toBeLessThanOrEqual(0.5)
        },
      ),
      { seed: 286, numRuns: 300 },
    )
  })

  it.each([
    [3, 10],
    [3.001, 12],
    [6, 12],
    [6.001, 15],
    [30, 21],
    [30.001, 25],
    [500, 63],
  ])('IT7 of %f mm is %i µm: steps are over … up to and including', (nominal, it7) => {
    expect(limitsOf('H7', 'hole', nominal)).toMatchObject({ upperUm: it7 })
  })
})

describe('body.fit refuses', () => {
  it('what is no tolerance class, both at once, naming what is known', () => {
    const result = answer(fit, { nominalMm: 10, hole: 'h7', shaft: 'q6' })
    expect(result).toMatchObject({ ok: false, issues: [{ path: 'hole' }, { path: 'shaft' }] })
    if (!result.ok) expect(result.issues[0]?.allowed).toContain('JS')
  })

  it.each([
    [10, 'H7', 't6', 'shaft', 't over 24 mm'],
    [12, 'CD7', 'h6', 'hole', 'CD up to 10 mm'],
    [0.8, 'H14', 'h6', 'hole', 'grades 01 to 13'],
    [0.8, 'A9', 'h6', 'hole', 'C to ZC'],
    [10, 'K9', 'h6', 'hole', 'K up to K8'],
    [10, 'H7', 'j8', 'shaft', 'j8 up to 3 mm'],
    [10, 'H19', 'h6', 'hole', '01 to 18'],
  ])('%f mm %s/%s: %s, known are %s', (nominalMm, hole, shaft, path, allowed) => {
    const result = answer(fit, { nominalMm, hole, shaft })
    expect(result).toMatchObject({ ok: false, issues: [{ path, code: 'not-a-choice' }] })
    if (!result.ok) expect(result.issues[0]?.allowed).toContain(allowed)
  })

  it('nothing quietly: a remembered row gives a notice, a read one does not', () => {
    expect(fitOf(25, 'H7', 'j6').notices).toHaveLength(1)
    expect(fitOf(8, 'H7', 'j6').notices).toHaveLength(0)
    expect(fitOf(200, 'H7', 'j6').notices).toHaveLength(0)
    expect(fitOf(380, 'X7', 'h6').notices).toHaveLength(1)
  })
})
