import { describe, expect, it } from 'vitest'
import { offWords } from './differs.ts'
import { codesWords, mechanismSentence, ruleWords, surelyWords } from './figure-words.ts'

const plain = (words: string) => words.replaceAll('\u202f', '')

describe('figures of a mechanism in words', () => {
  it.each([
    [0.5, '50%'],
    [0.99, '99%'],
    [0.999999, '99.9999%'],
    [0.9999985, '99.9998%'],
    [1, '> 99.9999999%'],
    [0, '0%'],
  ])('the own key opens %f: %s, never rounded up to more than it is', (probability, words) => {
    expect(plain(surelyWords(probability))).toBe(words)
  })

  it('counts are grouped by thousands whatever their size', () => {
    expect(codesWords('8258400')).toBe('8\u202f258\u202f400')
    expect(codesWords('9999')).toBe('9999')
    expect(plain(codesWords('123456789012345678901234567890'))).toBe('123456789012345678901234567890')
  })

  it('a key is told by how far it is off', () => {
    expect(offWords([0, 0, 0])).toBe('the own key')
    expect(offWords([0, -1, 0])).toBe('1 disc 1 step off')
    expect(offWords([1, -2, 0])).toBe('2 discs 1 or 2 steps off')
    expect(offWords([1, -2, 3, 4])).toBe('4 discs 1 to 4 steps off')
  })

  it('a separation rule is told by its sum', () => {
    const differs = {
      total: '1',
      usable: '1',
      separated: '1',
      ownKey: 1,
      worstInterchange: 0,
      worstDifferences: [],
      remedies: [],
    }
    expect(ruleWords({ ...differs, rule: { needed: 'none' } })).toMatch(/all usable codes keep apart/)
    expect(ruleWords({ ...differs, rule: { needed: 'congruence', congruence: { modulus: 4, remainder: 0 } } })).toBe(
      'rule: sum of the values leaves 0 by 4',
    )
    expect(ruleWords({ ...differs, rule: { needed: 'none found' } })).toMatch(/no rule/)
  })

  it('the sentence names what fails first: the own key, then other keys, then the count of codes', () => {
    const asked = (limit: number) => ({ limit, askedBy: 'a test' })
    // Only these three requirements are read.
    const shown = { requirements: { ownKey: asked(0.999), interchange: asked(1e-6), differs: asked(1000) } } as never
    const differs = {
      total: '5000',
      usable: '4000',
      separated: '500',
      rule: { needed: 'congruence', congruence: { modulus: 4, remainder: 0 } },
      ownKey: 1,
      worstInterchange: 0,
      worstDifferences: [],
      remedies: [],
    } as const
    const say = (ownOpens: number, otherOpens: number, separated = '500') =>
      mechanismSentence({ shown, ownOpens, otherOpens, nearest: [1, 0], differs: { ...differs, separated } })
    expect(say(0.99, 1e-3)).toMatchObject({ verdict: 'falls-short', head: 'The own key fails.' })
    expect(say(1, 1e-3)).toMatchObject({ verdict: 'falls-short', head: 'Too many other keys open.' })
    expect(say(1, 1e-9)).toMatchObject({ verdict: 'falls-short', head: 'Too few codes keep apart.' })
    expect(say(1, 1e-9, '1000')).toMatchObject({ verdict: 'holds', head: expect.stringContaining('separation rule') })
  })
})
