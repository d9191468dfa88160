/** Words a block is made of, by their letters, in the order they are written. */
export type Words = Readonly<Partial<Record<'G' | 'X' | 'Y' | 'Z' | 'F' | 'S' | 'T' | 'M', number | readonly number[]>>>

const LETTERS = ['G', 'X', 'Y', 'Z', 'F', 'S', 'T', 'M'] as const
/** Three decimals are finer than any axis; a control must not be asked to round. */
const DECIMALS: Readonly<Partial<Record<(typeof LETTERS)[number], number>>> = { X: 3, Y: 3, Z: 3, F: 3 }
/** Blocks are numbered in tens, so that a line can be put in between by hand. */
const STEP = 10
/** Comments are broken at this length: a control shows no more. */
const LINE = 64

/** Writes a program of ISO 6983: `%`, numbered blocks, comments in parentheses. Plain ASCII, as every control reads it. */
export class BlockWriter {
  private readonly lines: string[] = ['%']
  private number = 0

  comment(text: string): void {
    for (const line of broken(plain(text))) this.lines.push(`(${line})`)
  }

  block(words: Words): void {
    this.number += STEP
    const written = LETTERS.flatMap((letter) => {
      const value = words[letter]
      if (value === undefined) return []
      return (typeof value === 'number' ? [value] : value).map((each) => `${letter}${figure(letter, each)}`)
    })
    this.lines.push(`N${this.number} ${written.join(' ')}`)
  }

  text(): string {
    return `${this.lines.join('\n')}\n`
  }
}

function figure(letter: (typeof LETTERS)[number], value: number): string {
  const decimals = DECIMALS[letter]
  if (decimals === undefined) return `${Math.round(value)}`
  const fixed = value.toFixed(decimals).replace(/0+$/, '')
  return fixed === '-0.' ? '0.' : fixed // the point stays: without it some controls read micrometres
}

/** Letters that every control shows: ASCII capitals; no parenthesis inside a comment. */
export function plain(text: string): string {
  return text
    .replaceAll('×', 'x')
    .replaceAll('−', '-')
    .replaceAll('°', ' deg')
    .replaceAll('µ', 'u')
    .normalize('NFKD')
    .replace(/[()]/g, ' ')
    .replace(/[^\x20-\x7e]/g, '')
    .replace(/ +/g, ' ')
    .trim()
    .toUpperCase()
}

function broken(text: string): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > LINE) {
      lines.push(line)
      line = `  ${word}`
    } else line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, line]
}
