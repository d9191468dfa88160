import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Refusal } from '../issue.ts'
import { type CodeShape, codeIssues } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { csvRecords } from './csv-records.ts'
import { readEarlierCodes } from './earlier-codes.ts'
import { issueOrder } from './issue-order.ts'
import { issueStream } from './issue-stream.ts'

const shape: CodeShape = { discs: 5, values: 6, rules: { maxSameInRow: 2, congruence: { modulus: 2, remainder: 0 } } }
const opened = openCodeSpace(shape)
if (opened instanceof Refusal) throw new Error('refused')
const space = opened
const order = issueOrder(space, new Uint8Array(16).fill(11))
const read = (text: string, more: { setAside?: number[]; lowestCut?: 0 | 1 } = {}) =>
  readEarlierCodes({ text, space, order, ...more })

describe('CSV', () => {
  it('is read with quotes, commas and line ends inside them, and doubled quotes (RFC 4180, section 2, rules 5 to 7)', () => {
    // The three examples of the section, one after another.
    const { records, troubles } = csvRecords(
      '"aaa","bbb","ccc"\r\nzzz,yyy,xxx\r\n"aaa","b\r\nbb","ccc"\r\n"aaa","b""bb","ccc"',
    )
    expect(records).toEqual([
      { line: 1, fields: ['aaa', 'bbb', 'ccc'] },
      { line: 2, fields: ['zzz', 'yyy', 'xxx'] },
      { line: 3, fields: ['aaa', 'b\r\nbb', 'ccc'] },
      { line: 5, fields: ['aaa', 'b"bb', 'ccc'] },
    ])
    expect(troubles).toEqual([])
  })

  it('gives back whatever fields were written by its rules', () => {
    const field = fc.string({ unit: fc.constantFrom('a', ',', ';', '"', '\n', '\r', ' ', 'ä') })
    const table = fc.array(fc.array(field, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 5 })
    fc.assert(
      fc.property(table, fc.constantFrom(',', ';'), fc.constantFrom('\n', '\r\n'), (rows, separator, end) => {
        const written = rows
          .map((row) => row.map((each) => `"${each.replaceAll('"', '""')}"`).join(separator))
          .join(end)
        const { records, troubles } = csvRecords(`\uFEFF${written}${end}`)
        expect(troubles).toEqual([])
        expect(records.map(({ fields }) => fields)).toEqual(rows)
      }),
      { seed: 4180, numRuns: 200 },
    )
  })

  it('names the line of what it cannot read', () => {
    expect(csvRecords('a,b\n1,"2\n3,4').troubles).toMatchObject([{ line: 2 }])
    expect(csvRecords('a,b\n"1"2,3\n4"5,6\n7,8').troubles.map(({ line }) => line)).toEqual([2, 3])
  })
})

describe('codes issued before', () => {
  it('come back as the issue numbers they have, in every accepted form', () => {
    const numbers = [0n, 5n, 700n, space.usable - 1n]
    const codes = numbers.map((n) => space.unrank(order.indexOf(n)))
    const forms = [
      `lock,blind code,code\n${codes.map((code, i) => `L${i},B${i},${code.join('')}`).join('\n')}`,
      `Code;Remark\r\n${codes.map((code) => `${code.join('-')};"a; b"`).join('\r\n')}\r\n`,
      `code\n${codes.map((code) => `"${code.join(', ')}"`).join('\n')}`,
      `Lock,Cut 5,Cut 4,Cut 3,Cut 2,Cut 1\n${codes.map((code, i) => `L${i},${code.toReversed().join()}`).join('\n')}`,
    ]
    for (const text of forms) {
      const earlier = read(text)
      if (!earlier.ok) throw new Error(JSON.stringify(earlier.problems))
      expect(earlier.codes.map(({ issueNumber }) => issueNumber)).toEqual(numbers)
      expect(numbers.every((n) => earlier.numbers.has(n))).toBe(true)
      expect(earlier.numbers.size).toBe(4n)
    }
    expect(read(forms[0] ?? '')).toMatchObject({ codes: [{ line: 2, lock: 'L0', blindCode: 'B0' }, {}, {}, {}] })
    const fromOne = `code\n${codes.map((code) => code.map((value) => value + 1).join(' ')).join('\n')}`
    expect(read(fromOne, { lowestCut: 1 })).toMatchObject({
      ok: true,
      codes: numbers.map((issueNumber) => ({ issueNumber })),
    })
  })

  const faulty = ['code', '11020', '11121', '1102', '1102x', '11027', '11020', '11220', '"11002'].join('\n')

  it('are listed with line and reason where something is wrong, and none is taken over', () => {
    const earlier = read(faulty)
    if (earlier.ok) throw new Error('taken over')
    expect(earlier.problems.map(({ line, kind }) => [line, kind])).toEqual([
      [3, 'outside-rules'],
      [4, 'wrong-length'],
      [5, 'not-a-number'],
      [6, 'outside-rules'],
      [7, 'twice-in-file'],
      [9, 'unreadable'],
    ])
    expect(earlier.problems[0]?.message).toBe(
      'The code is outside the rules: at most 2 equal values may stand in a row.',
    )
    expect(earlier.problems[4]?.message).toContain('line 2')
    for (const cut of ['1102', '1112', '1100']) expect(JSON.stringify(earlier)).not.toContain(cut)
  })

  it('are taken over when every line with a problem is put right or set aside, and no sound line may be set aside', () => {
    expect(read(faulty, { setAside: [3, 4, 5, 6, 9] })).toMatchObject({ ok: false, problems: [{ line: 7 }] })
    const taken = read(faulty, { setAside: [9, 3, 4, 5, 6, 7] })
    expect(taken).toMatchObject({ ok: true, codes: [{ line: 2 }, { line: 8 }], setAside: [3, 4, 5, 6, 7, 9] })
    expect(read(faulty, { setAside: [2, 3, 4, 5, 6, 7, 9, 99] })).toMatchObject({
      ok: false,
      problems: [
        { line: 2, kind: 'nothing-to-set-aside' },
        { line: 99, kind: 'nothing-to-set-aside' },
      ],
    })
  })

  it('need a column for the code', () => {
    for (const text of ['', 'lock\nA', 'cut 1,cut 2\n1,2', 'cut 1,cut 2,cut 3,cut 4,cut 5,cut 6\n1,1,0,2,0,0'])
      expect(read(text)).toMatchObject({ ok: false, problems: [{ line: 1, kind: 'no-code-column' }] })
    expect(read('lock,code\nA\n')).toMatchObject({ ok: false, problems: [{ line: 2, kind: 'unreadable' }] })
  })

  it('are refused exactly when the rules refuse them', () => {
    const code = fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 5, maxLength: 5 })
    fc.assert(
      fc.property(code, (cuts) => {
        expect(read(`code\n${cuts.join(' ')}`).ok).toBe(codeIssues(cuts, shape, 'code').length === 0)
      }),
      { seed: 12_320, numRuns: 200 },
    )
  })

  it('are never given out again', () => {
    const earlier = read('code\n11020\n11220\n00000\n', { setAside: [4] })
    if (!earlier.ok) throw new Error('not taken over')
    const given = [...issueStream({ space, order, withdrawn: earlier.numbers, start: 0n })]
    expect(given).toHaveLength(Number(space.usable) - 2)
    const texts = new Set(given.map(({ code }) => code.join('')))
    expect(texts.size).toBe(given.length)
    expect(texts.has('11020') || texts.has('11220')).toBe(false)
  })
})
