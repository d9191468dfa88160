/** One record of a CSV text and the line it begins on, counted from 1. */
export interface CsvRecord {
  readonly line: number
  readonly fields: readonly string[]
}

/** Where a CSV text cannot be read: the line, and what is wrong with it, without anything that stands there. */
export interface CsvTrouble {
  readonly line: number
  readonly message: string
}

/**
 * Reads a CSV text as RFC 4180 has it: records end with CR LF (a bare LF is taken too), fields are parted by commas, a field in
 * quotes may hold commas, line ends and doubled quotes. Semicolons part the fields where the first line holds one outside
 * quotes, as spreadsheets of many countries write. A byte order mark is passed over, and so are empty lines.
 */
export function csvRecords(text: string): { records: CsvRecord[]; troubles: CsvTrouble[] } {
  const content = text.startsWith('\uFEFF') ? text.slice(1) : text
  const separator = /^(?:[^"\r\n]|"[^"]*")*?;/.test(content) ? ';' : ','
  const records: CsvRecord[] = []
  const troubles: CsvTrouble[] = []
  let [at, line] = [0, 1]
  while (at < content.length) {
    const fields: string[] = []
    const began = line
    let trouble: string | undefined
    for (let more = true; more; ) {
      const read = content[at] === '"' ? quotedField(content, at) : plainField(content, at, separator)
      line += read.lines
      at = read.end
      fields.push(read.value)
      trouble ??= read.trouble
      more = content[at] === separator
      if (more) at++
    }
    if (content[at] === '\r') at++
    if (content[at] === '\n') at++
    line++
    if (trouble !== undefined) troubles.push({ line: began, message: trouble })
    else if (fields.length > 1 || fields[0] !== '') records.push({ line: began, fields })
  }
  return { records, troubles }

  function plainField(from: string, start: number, parted: string): Field {
    let end = start
    while (end < from.length && from[end] !== parted && from[end] !== '\n' && !isLineEnd(from, end)) end++
    const value = from.slice(start, end)
    return {
      value,
      end,
      lines: 0,
      ...(value.includes('"') ? { trouble: 'A quote stands inside a field that does not begin with one.' } : {}),
    }
  }

  function quotedField(from: string, start: number): Field {
    let end = start + 1
    while (end < from.length && (from[end] !== '"' || from[end + 1] === '"')) end += from[end] === '"' ? 2 : 1
    const value = from.slice(start + 1, end).replaceAll('""', '"')
    const lines = value.split('\n').length - 1
    if (end >= from.length) return { value, end, lines, trouble: 'A quoted field is never closed.' }
    const after = plainField(from, end + 1, separator)
    return {
      value,
      end: after.end,
      lines,
      ...(after.value === '' ? {} : { trouble: 'Something stands between a closing quote and the end of the field.' }),
    }
  }
}

interface Field {
  readonly value: string
  readonly end: number
  /** Line ends inside the field. */
  readonly lines: number
  readonly trouble?: string
}

const isLineEnd = (text: string, at: number) => text[at] === '\r' && (text[at + 1] === '\n' || at + 1 === text.length)
