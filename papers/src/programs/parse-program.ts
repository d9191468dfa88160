import type { Issue } from '@haspwright/engine'

/** One line of a program that moves or switches something. */
export interface Block {
  /** Line in the file, from 1, and the number it carries. */
  readonly line: number
  readonly number: number | null
  readonly words: readonly Word[]
}

export interface Word {
  readonly letter: string
  readonly value: number
}

/** Longest file that is read, characters; a program of a lock part has a few thousand. */
const MOST_CHARACTERS = 2_000_000
/** Most wrong lines that are told of. */
const MOST_ISSUES = 50

/** How a block is spoken of: `line 41 (N120)`. */
export function blockName({ line, number }: Pick<Block, 'line' | 'number'>): string {
  return number === null ? `line ${line}` : `line ${line} (N${number})`
}

/**
 * Reads a program of ISO 6983: `%`, blocks of words, comments in parentheses, `/` for a block that may be skipped. What is not
 * such a word is an issue; nothing is guessed.
 */
export function parseProgram(text: string): { ok: true; blocks: Block[] } | { ok: false; issues: Issue[] } {
  if (text.length > MOST_CHARACTERS)
    return {
      ok: false,
      issues: [{ path: '', code: 'too-many', message: 'The file is far too long for a machine program.' }],
    }
  const blocks: Block[] = []
  const issues: Issue[] = []
  for (const [i, written] of text.split(/\r?\n/).entries()) {
    const read = readLine(written, i + 1)
    if (typeof read === 'string') issues.push({ path: `line ${i + 1}`, code: 'bad-format', message: read })
    else if (read !== null) blocks.push(read)
    if (issues.length === MOST_ISSUES) break
  }
  if (issues.length === 0 && blocks.length === 0)
    issues.push({ path: '', code: 'missing', message: 'There is no block in this file.' })
  return issues.length > 0 ? { ok: false, issues } : { ok: true, blocks }
}

/** A block, nothing for an empty line, or what is wrong. */
function readLine(written: string, line: number): Block | string | null {
  const bare = written.replace(/\([^()]*\)/g, ' ')
  if (/[()]/.test(bare)) return 'A comment is not closed, or stands inside another.'
  const rest = bare
    .trim()
    .toUpperCase()
    .replace(/^\/\d?/, '')
  if (rest === '' || rest === '%') return null
  const words: Word[] = []
  const left = rest.replace(/([A-Z])\s*([+-]?(?:\d+\.?\d*|\.\d+))/g, (_, letter: string, value: string) => {
    words.push({ letter, value: Number(value) })
    return ' '
  })
  if (left.trim() !== '') return `"${left.trim().slice(0, 40)}" is not a word of a letter and a number.`
  const number = words.find(({ letter }) => letter === 'N')?.value ?? null
  const others = words.filter(({ letter }) => letter !== 'N')
  const repeated = others.find(
    ({ letter }, i) => !'GM'.includes(letter) && others.findIndex((w) => w.letter === letter) < i,
  )
  if (repeated !== undefined) return `The letter ${repeated.letter} stands twice in this block.`
  return { line, number, words: others }
}
