import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { steels } from '../materials/steels.ts'
import { embrittlingAt } from './embrittlement.ts'
import { temper } from './temper.ts'
import { temperFor } from './temper-for.ts'
import { hardnessAfterTempering, TEMPERABLE, temperatureOfParameter, temperingParameter } from './tempering-curve.ts'

describe('the tempering parameter', () => {
  // Worked apart from the formula a plate maker prints: (273 + T)(20 + lg t)/1000.
  it('200 °C for one hour is 9.46', () => expect(temperingParameter(200, 1)).toBeCloseTo(9.46, 2))
  it.each([
    [574.5, 4],
    [580, 2.94],
    [550, 16.4],
  ])('600 °C for one hour equals %d °C for %d h', (temperatureC, hours) => {
    // half a degree, or one percent of the hours
    expect(Math.abs(temperatureOfParameter(temperingParameter(600, 1), hours) - temperatureC)).toBeLessThanOrEqual(0.5)
  })
  it('comes back to the temperature it was made from', () => {
    for (const hours of [0.1, 1, 7, 100])
      expect(temperatureOfParameter(temperingParameter(433, hours), hours)).toBeCloseTo(433, 9)
  })
})

describe('heat.temper and heat.temper-for', () => {
  it.each(TEMPERABLE)('%s: every row of its card comes back, whatever the constant', (steel) => {
    for (const [temperatureC, hrc] of steels[steel].tempering?.rows ?? [])
      for (const constant of [18, 20, 22])
        expect(hardnessAfterTempering(steel, { temperatureC, hours: 1, constant })).toBeCloseTo(hrc, 6)
  })

  it.each(TEMPERABLE)('%s: the temperature for a hardness leaves that hardness', (steel) => {
    for (const minutes of [30, 60, 120, 300]) {
      const wanted = answer(temperFor, { steel, hrc: 41.7, minutes })
      if (!wanted.ok) throw new Error(JSON.stringify(wanted.issues))
      const left = answer(temper, { steel, minutes, temperatureC: wanted.output.temperatureC })
      expect(left.ok && left.output.hrc).toBeCloseTo(41.7, 6)
    }
  })

  it('tempering longer or hotter never leaves a harder part', () => {
    let last = Number.POSITIVE_INFINITY
    for (let temperatureC = 110; temperatureC <= 690; temperatureC += 7) {
      const hrc = hardnessAfterTempering('42CrMo4', { temperatureC, hours: 1 }) ?? Number.NaN
      expect(hrc).toBeLessThanOrEqual(last)
      expect(hardnessAfterTempering('42CrMo4', { temperatureC, hours: 1.1 }) ?? 0).toBeLessThanOrEqual(hrc)
      last = hrc
    }
  })

  it('says that one hour is assumed, and names the range that embrittles', () => {
    const result = answer(temperFor, { steel: '42CrMo4', hrc: 50, minutes: 60 })
    if (!result.ok) throw new Error('refused')
    expect(result.output.embrittling.map(({ minC, maxC }) => [minC, maxC])).toEqual([[250, 400]])
    expect(result.notices.join(' ')).toMatch(/one hour is assumed.*blue/)
    const soft = answer(temperFor, { steel: '42CrMo4', hrc: 36, minutes: 60 })
    expect(soft.ok && soft.output.embrittling).toEqual([])
  })

  it('refuses what the steel cannot reach, and says what it can', () => {
    for (const hrc of [57.1, 26.9]) {
      const result = answer(temperFor, { steel: '42CrMo4', hrc, minutes: 60 })
      expect(result.ok ? [] : result.issues.map(({ path, code, allowed }) => [path, code, allowed])).toEqual([
        ['hrc', 'out-of-reach', '27 to 57 HRC'],
      ])
    }
    expect(answer(temperFor, { steel: '42CrMo4', hrc: 57, minutes: 60 }).ok).toBe(true)
    expect(answer(temperFor, { steel: '42CrMo4', hrc: 27, minutes: 60 }).ok).toBe(true)
  })

  it('refuses a time so short that the steel would harden again', () => {
    const result = answer(temperFor, { steel: '42CrMo4', hrc: 27, minutes: 5 })
    expect(result.ok ? '' : result.issues[0]?.path).toBe('minutes')
  })

  it('refuses a steel without published tempering values, and lists those that have them', () => {
    for (const steel of ['16MnCr5', '34CrMo4', '30MnB5']) {
      const result = answer(temperFor, { steel, hrc: 40, minutes: 60 })
      expect(result.ok ? [] : result.issues.map(({ path, allowed }) => [path, allowed])).toEqual([
        ['steel', 'C45E, 41Cr4, 42CrMo4'],
      ])
    }
    const unknown = answer(temper, { temperatureC: 500, minutes: 60, steel: 'Wootz' })
    expect(unknown.ok ? '' : unknown.issues[0]?.allowed).toContain('42CrMo4')
  })

  it('answers only within the card: both ends hold, a degree beyond is refused', () => {
    const at = (temperatureC: number) => answer(temper, { temperatureC, minutes: 60, steel: '42CrMo4' }).ok
    expect([at(100), at(99), at(700), at(701)]).toEqual([true, false, true, false])
  })

  // Technical card X30Cr13: 150–200 °C about 50 HRC, 625–675 °C 24 to 31 HRC; between them it prints nothing.
  it.each([
    [150, true],
    [200, true],
    [201, false],
    [624, false],
    [625, true],
  ])('X30Cr13 at %d °C: answered only where its card prints a hardness (%s)', (temperatureC, known) => {
    expect(answer(temper, { temperatureC, minutes: 60, steel: 'X30Cr13' }).ok).toBe(known)
  })
  it('X30Cr13 for 50 HRC: the middle of the range its card prints; 45 HRC is refused with what it prints', () => {
    const found = answer(temperFor, { steel: 'X30Cr13', hrc: 50, minutes: 60 })
    expect(found.ok && found.output.temperatureC).toBe(175)
    const refused = answer(temperFor, { steel: 'X30Cr13', hrc: 45, minutes: 60 })
    expect(refused.ok ? '' : refused.issues[0]?.allowed).toBe('50 HRC or 24 to 31 HRC')
  })
  it('a stainless steel embrittles elsewhere than a low-alloy steel (sheet of X20Cr13: 425 to 525 °C)', () => {
    expect(embrittlingAt(475, 'X20Cr13').map(({ name }) => name)).toEqual(['Embrittlement at 475 °C'])
    expect(embrittlingAt(526, 'X20Cr13')).toEqual([])
    expect(embrittlingAt(300, '42CrMo4').map(({ name }) => name)).toEqual(['Tempered martensite (blue) brittleness'])
  })
})
