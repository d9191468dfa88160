/** Where a text stops being JSON, and what stood or was missing there. */
export interface JsonMistake {
  /** Counted from 1. */
  readonly line: number
  readonly column: number
  /** In plain words, without a word of the text itself: it may hold secrets. */
  readonly problem: string
}

/** Deeper nesting than any of our formats has; refused so that no reader runs out of stack. */
const MAX_DEPTH = 64
const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y
const WORD = /true|false|null/y
const QUOTE = 0x22
const BACKSLASH = 0x5c
const SPACE = /[ \t\n\r]*/y

type Expecting = 'value' | 'value or ]' | 'name' | 'name or }' | ':' | ', or ]' | ', or }' | 'end'
const PROBLEMS: Record<Expecting, string> = {
  value: 'a value is missing or not written as JSON',
  'value or ]': 'a value or ] is missing',
  name: 'a field name in double quotes is missing',
  'name or }': 'a field name in double quotes or } is missing',
  ':': 'a colon is missing after a field name',
  ', or ]': 'a comma or ] is missing',
  ', or }': 'a comma or } is missing',
  end: 'something stands after the end of the JSON',
}

/**
 * Finds the first place where a text is not JSON (RFC 8259), a field named twice, or nesting too deep to read.
 *
 * The platform's own parser says the place only sometimes, and then prints a piece of the text: neither will do for a file
 * that may hold secrets. It also keeps the last of two fields of one name, where a person meant one of them.
 */
export function firstJsonMistake(text: string): JsonMistake | undefined {
  const open: ({ kind: '['; names?: never } | { kind: '{'; names: Set<string> })[] = []
  let at = 0
  let expecting: Expecting = 'value'

  const take = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at
    const found = pattern.exec(text)?.[0]
    if (found !== undefined) at += found.length
    return found
  }
  /** Walks a text by hand: a pattern that repeats would need a stack as long as the text. */
  const takeText = (): string | undefined => {
    const start = at
    for (let i = at + 1; i < text.length; i++) {
      const code = text.charCodeAt(i)
      if (code === QUOTE) {
        at = i + 1
        return text.slice(start, at)
      }
      if (code < 0x20) return undefined
      if (code !== BACKSLASH) continue
      ESCAPE.lastIndex = i
      const escaped = ESCAPE.exec(text)?.[0]
      if (escaped === undefined) return undefined
      i += escaped.length - 1
    }
    return undefined
  }
  const afterValue = (): Expecting => {
    const inside = open.at(-1)
    if (inside === undefined) return 'end'
    return inside.kind === '[' ? ', or ]' : ', or }'
  }
  const mistake = (problem: string, place = at): JsonMistake => {
    const before = text.slice(0, place)
    const lineStart = before.lastIndexOf('\n') + 1
    return { line: before.split('\n').length, column: place - lineStart + 1, problem }
  }

  for (;;) {
    take(SPACE)
    const c = text[at]
    if (c === undefined)
      return expecting === 'end' ? undefined : mistake(`the file ends too early: ${PROBLEMS[expecting]}`)
    if (expecting === 'value' || expecting === 'value or ]') {
      if (c === ']' && expecting === 'value or ]') {
        at++
        open.pop()
        expecting = afterValue()
      } else if (c === '[' || c === '{') {
        if (open.length === MAX_DEPTH) return mistake(`lists and objects are nested more than ${MAX_DEPTH} deep`)
        at++
        open.push(c === '[' ? { kind: '[' } : { kind: '{', names: new Set() })
        expecting = c === '[' ? 'value or ]' : 'name or }'
      } else if ((c === '"' ? takeText() : (take(WORD) ?? take(NUMBER))) !== undefined) {
        expecting = afterValue()
      } else return mistake(c === '"' ? UNFINISHED_TEXT : PROBLEMS[expecting])
    } else if (expecting === 'name' || expecting === 'name or }') {
      if (c === '}' && expecting === 'name or }') {
        at++
        open.pop()
        expecting = afterValue()
      } else {
        const start = at
        const name = c === '"' ? takeText() : undefined
        if (name === undefined) return mistake(c === '"' ? UNFINISHED_TEXT : PROBLEMS[expecting])
        const names = open.at(-1)?.names
        if (names?.has(name)) return mistake('a field stands twice in the same object', start)
        names?.add(name)
        expecting = ':'
      }
    } else if (expecting === ':') {
      if (c !== ':') return mistake(PROBLEMS[expecting])
      at++
      expecting = 'value'
    } else if (expecting === 'end') {
      return mistake(PROBLEMS.end)
    } else {
      const inside: ']' | '}' = expecting === ', or ]' ? ']' : '}'
      if (c !== ',' && c !== inside) return mistake(PROBLEMS[expecting])
      at++
      if (c === ',') expecting = inside === ']' ? 'value' : 'name'
      else {
        open.pop()
        expecting = afterValue()
      }
    }
  }
}

const UNFINISHED_TEXT = 'a text is not closed, or holds a line break or an unknown escape'
