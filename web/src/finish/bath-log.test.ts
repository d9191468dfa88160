import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { BATHS, type BathAnalysis, limitsOf } from './bath-kinds.ts'
import { additionsAfter, bathSentence, byDay, csvOf, readCsv } from './bath-log.ts'

const { nickel } = BATHS
const day = (n: number) => new Date(Date.UTC(2026, 0, n)).toISOString().slice(0, 10)
const figure = fc.double({ min: 0, max: 900, noNaN: true }).map((value) => Math.round(value * 100) / 100)

describe('the bath log', () => {
  it('500 L at 40 g/L of boric acid, wanted 45: 2.5 kg (by hand, example of finish.bath-additions)', () => {
    const limits = { ...nickel.practice, volumeL: 500 }
    const { additions } = additionsAfter(nickel, { date: day(1), boricAcid: 40 }, limits)
    expect(additions).toEqual([
      { name: 'boricAcid', value: 40, standing: 'within', remedy: 'add 2.5 kg of boric acid' },
    ])
  })

  it('too much is diluted, too low a pH is named without an amount, brightener follows the charge', () => {
    const { additions, notices } = additionsAfter(
      nickel,
      { date: day(1), nickel: 90, pH: 3.5, ampereHours: 2500 },
      { ...nickel.practice, volumeL: 1000 },
    )
    expect(additions[0]?.remedy).toMatch(/^replace 16[67] L/) // 1000 · (1 − 75/90)
    expect(additions[1]?.remedy).toContain('no amount is computed')
    expect(additions[2]?.remedy).toBe('add 500 mL of brightener')
    expect(notices.length).toBeGreaterThan(0)
    expect(bathSentence(nickel, additions).headline).toBe(
      'Nickel over its limit at 90\u202fg/L, pH under its limit at 3.50',
    )
  })

  it('what is saved is read back as it was (property)', () => {
    const analysis = fc.record(
      {
        nickel: figure,
        boricAcid: figure,
        pH: fc.integer({ min: 0, max: 140 }).map((n) => n / 10),
        note: fc.constantFrom('new; "anodes"', 'filtered'),
      },
      { requiredKeys: ['nickel'] },
    )
    fc.assert(
      fc.property(fc.array(analysis, { minLength: 1, maxLength: 20 }), (rows) => {
        const log = rows.map((row, i): BathAnalysis => ({ ...row, date: day(i + 1) }))
        expect(readCsv(nickel, csvOf(nickel, log))).toEqual({ ok: true, log: byDay(log) })
      }),
      { seed: 5, numRuns: 50 },
    )
  })

  it('comma decimals and other separators are read, columns in any order', () => {
    expect(readCsv(nickel, 'date\tpH\tnickel g/L\n2026-01-05\t4,1\t72,5\n')).toEqual({
      ok: true,
      log: [{ date: '2026-01-05', pH: 4.1, nickel: 72.5 }],
    })
  })

  it('everything that cannot be read is named with its line, and nothing is taken over', () => {
    const reading = readCsv(
      nickel,
      'date;nickel g/L;pH\n2026-01-05;many;4\n05.01.2026;70;4\n2026-01-07;70;17\n2026-01-08;;\n',
    )
    if (reading.ok) throw new Error('was read')
    for (const path of ['lines[2].nickel', 'lines[3].date', 'lines[4].pH', 'lines[5].date'])
      expect(reading.issues.map((issue) => issue.path)).toContain(path)
    for (const bad of ['', 'nickel;pH\n70;4', 'date;gold\n2026-01-05;1', 'date;nickel\n'])
      expect(readCsv(nickel, bad).ok).toBe(false)
  })

  it('a trivalent bath takes its targets from the works, and its additive by the charge', () => {
    const kind = BATHS['chromium(III)']
    const stated = {
      metalGPerL: 22,
      salts: [{ name: 'Conducting salt', gPerL: 210 }],
      additives: [{ name: 'Maintenance additive', mlPerKiloampereHour: 800 }],
    }
    const limits = { ...limitsOf(kind, stated), volumeL: 1000 }
    expect(limits).toMatchObject({ chromium: { targetGPerL: 22 }, conductingSalt: { targetGPerL: 210 } })
    const { additions } = additionsAfter(kind, { date: day(1), chromium: 20, pH: 2, ampereHours: 500 }, limits)
    expect(additions.map(({ remedy }) => remedy)).toEqual([
      'add 2 kg of chromium, as metal, with the supplier’s concentrate',
      'raise with the alkali that the supplier names, in small steps; no amount is computed',
      'add 400 mL of maintenance additive',
    ])
  })

  it('a hexavalent bath: 1000 L at 2.03 of 2.5 g/L sulfate take 500 g of 96 % acid, which is 94 % sulfate (by hand)', () => {
    const kind = BATHS['chromium(VI)']
    const { additions } = additionsAfter(kind, { date: day(1), sulfate: 2.03 }, { ...kind.practice, volumeL: 1000 })
    expect(additions).toEqual([
      {
        name: 'sulfate',
        value: 2.03,
        standing: 'under',
        remedy: 'add 500 g of sulfuric acid of 96 %, diluted first',
      },
    ])
    expect(readCsv(kind, 'date;pH\n2026-01-05;4\n').ok).toBe(false)
  })
})
