import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { csv, parseCsv } from './csv.ts'

const textOf = (bytes: Uint8Array) => new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes)

describe('csv', () => {
  it('quotes commas, quotes and line ends and doubles quotes (RFC 4180, 2.5 to 2.7)', () => {
    expect(
      textOf(
        csv(
          ['a', 'b'],
          [
            ['x,y', 'say "no"'],
            ['line\r\nend', null],
          ],
        ),
      ),
    ).toBe('\ufeffa,b\r\n"x,y","say ""no"""\r\n"line\r\nend",\r\n')
  })
  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', ' =1', '＝1'])('shows %j as text, runs it as no formula', (cell) => {
    expect(parseCsv(textOf(csv(['a'], [[cell]])))[1]).toEqual([`'${cell}`])
  })
  it('keeps negative numbers numbers and rounds off binary noise', () => {
    expect(textOf(csv(['a', 'b'], [[-4, 0.1 + 0.2]]))).toBe('\ufeffa,b\r\n-4,0.3\r\n')
  })
  it('reads back what it wrote', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string()), { minLength: 1 }), (rows) => {
        const back = parseCsv(textOf(csv(['a', 'b'], rows))).slice(1)
        const bare = (cell: string) => cell.replace(/^'(?=\s*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20])/, '')
        expect(back.map((row) => row.map(bare))).toEqual(rows.map((row) => row.map((cell) => bare(cell))))
      }),
      { seed: 4170 },
    )
  })
})
