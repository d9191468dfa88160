import { describe, expect, it } from 'vitest'
import { joinWorksKey, splitWorksKey } from './recovery-sheet.ts'

const KEY = '00112233445566778899aabbccddeeff'.repeat(2)

async function sheetsOf(key = KEY) {
  const made = await splitWorksKey(key, { sheets: 5, needed: 3 })
  if (!made.ok) throw new Error('refused')
  return made.value
}

describe('the recovery sheets', () => {
  it('give the works key back with any three of five, in any order, also with spaces typed between', async () => {
    const sheets = await sheetsOf()
    for (let a = 0; a < 5; a++)
      for (let b = a + 1; b < 5; b++)
        for (let c = b + 1; c < 5; c++) {
          const three = [c, a, b].map((i) => sheets[i]?.replaceAll(/(.{8})/g, '$1 ') ?? '')
          expect(await joinWorksKey(three)).toEqual({ ok: true, value: KEY })
        }
    expect(await joinWorksKey(sheets)).toEqual({ ok: true, value: KEY })
  })

  it('are refused when there are too few, one twice, misread, of two keys, or no sheet at all', async () => {
    const [one = '', two = '', three = ''] = await sheetsOf()
    const [other = ''] = await sheetsOf('ab'.repeat(32))
    const last = three.endsWith('0') ? '1' : '0'
    for (const given of [
      [],
      [one],
      [one, two],
      [one, two, two],
      [one, two, `${three.slice(0, -1)}${last}`],
      [one, two, other],
      [one, two, 'x'],
    ])
      expect(await joinWorksKey(given)).toMatchObject({ ok: false })
  })

  it.each([
    [1, 1],
    [5, 1],
    [3, 4],
    [21, 3],
    [2.5, 2],
    [Number.NaN, 2],
  ])('are not made for %d sheets of which %d are needed', async (sheets, needed) => {
    expect(await splitWorksKey(KEY, { sheets, needed })).toMatchObject({ ok: false, issues: [{ path: 'sheets' }] })
  })
})
