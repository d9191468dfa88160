import { describe, expect, it } from 'vitest'
import published from '../../../checks/check-digits.json' with { type: 'json' }
import { answer } from '../calculation.ts'
import { CHECK_SCHEMES, type CheckSchemeName, checkHolds } from './check-characters.ts'
import { checkDigit } from './check-digit.ts'

const schemeOf: Record<string, CheckSchemeName> = {
  Damm: 'damm',
  'ISO 7064 MOD 11,10': 'iso7064-mod11-10',
  'ISO 7064 MOD 37,36': 'iso7064-mod37-36',
}
const cases = published.cases.flatMap(({ alg, ...rest }) => {
  const scheme = schemeOf[alg]
  return scheme === undefined ? [] : [{ scheme, ...rest }]
})

/** All texts of so many digits, each with its check digit. */
const completed = (scheme: CheckSchemeName, length: number) =>
  Array.from({ length: 10 ** length }, (_, n) => {
    const text = `${n}`.padStart(length, '0')
    return text + CHECK_SCHEMES[scheme].checkCharacter(text)
  })

const substitutions = (text: string, alphabet: string) =>
  Array.from(text).flatMap((character, i) =>
    Array.from(alphabet)
      .filter((other) => other !== character)
      .map((other) => text.slice(0, i) + other + text.slice(i + 1)),
  )
const transpositions = (text: string) =>
  Array.from(text).flatMap((character, i) => {
    const next = text[i + 1]
    return next === undefined || next === character ? [] : [text.slice(0, i) + next + character + text.slice(i + 2)]
  })

describe('codes.check-digit', () => {
  it.each(cases.filter(({ check }) => check !== undefined))(
    '$scheme: $input is completed by $check (public cases)',
    ({ scheme, input, check }) => {
      expect(answer(checkDigit, { scheme, digits: input })).toMatchObject({ ok: true, output: { checkDigit: check } })
    },
  )

  it('tells right from wrong as the public cases do', () => {
    for (const { scheme, input, valid, wrongCheck } of cases)
      if (valid !== undefined) expect(checkHolds(scheme, input + (wrongCheck ?? ''))).toBe(valid)
  })

  it.each(['damm', 'iso7064-mod11-10'] as const)(
    '%s catches every wrong digit in all numbers of 1 to 4 digits',
    (scheme) => {
      for (const length of [1, 2, 3, 4]) {
        const missed = completed(scheme, length).filter((text) =>
          substitutions(text, '0123456789').some((wrong) => checkHolds(scheme, wrong)),
        )
        expect(missed).toEqual([])
      }
    },
  )

  it('Damm catches every swap of neighbours in all numbers of 1 to 5 digits; MOD 11,10 lets a few pass', () => {
    for (const length of [1, 2, 3, 4, 5])
      expect(
        completed('damm', length).filter((text) => transpositions(text).some((wrong) => checkHolds('damm', wrong))),
      ).toEqual([])
    const passed = completed('iso7064-mod11-10', 3)
      .flatMap(transpositions)
      .filter((wrong) => checkHolds('iso7064-mod11-10', wrong))
    expect(passed.length).toBeGreaterThan(0)
    expect(passed.length).toBeLessThan(0.03 * 3000)
  })

  it('MOD 37,36 catches every wrong character', () => {
    const { alphabet, checkCharacter } = CHECK_SCHEMES['iso7064-mod37-36']
    for (const a of alphabet)
      for (const b of alphabet) {
        const text = `${a}${b}7${checkCharacter(`${a}${b}7`)}`
        expect(substitutions(text, alphabet).some((wrong) => checkHolds('iso7064-mod37-36', wrong))).toBe(false)
      }
  })

  it('refuses characters outside the alphabet, small letters too', () => {
    for (const [scheme, digits] of [
      ['damm', '12A'],
      ['iso7064-mod11-10', '1-2'],
      ['iso7064-mod37-36', 'abc'],
    ] as const)
      expect(answer(checkDigit, { scheme, digits })).toMatchObject({
        ok: false,
        issues: [{ path: 'digits', code: 'bad-format' }],
      })
  })
})
