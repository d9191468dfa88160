export type Cell = string | number | boolean | null | undefined

/** A list as RFC 4180 text: commas, CRLF, quotes where needed, a head line. Starts with a byte order mark, so that a spreadsheet reads it as UTF-8. */
export function csv(head: readonly string[], rows: readonly (readonly Cell[])[]): Uint8Array {
  const lines = [head, ...rows].map((row) => row.map(cell).join(','))
  return new TextEncoder().encode(`\ufeff${lines.join('\r\n')}\r\n`)
}

/** A text that a spreadsheet would run as a formula gets an apostrophe before it, and is then shown as it is. */
function cell(value: Cell): string {
  if (value === null || value === undefined) return ''
  // Twelve digits: more than any figure has, less than the noise of binary fractions.
  if (typeof value === 'number') return String(Number(value.toPrecision(12)))
  if (typeof value !== 'string') return String(value)
  const safe = /^[\s]*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/u.test(value) ? `'${value}` : value
  return /[",\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

/** Reads RFC 4180 text back: rows of cells, quotes taken off. */
export function parseCsv(text: string): string[][] {
  const source = text.startsWith('\ufeff') ? text.slice(1) : text
  const rows: string[][] = []
  let row: string[] = []
  let value = ''
  let quoted = false
  for (let i = 0; i < source.length; i++) {
    const c = source[i] ?? ''
    if (quoted) {
      if (c !== '"') value += c
      else if (source[i + 1] === '"') {
        value += '"'
        i++
      } else quoted = false
    } else if (c === '"') quoted = true
    else if (c === ',') {
      row.push(value)
      value = ''
    } else if (c === '\r' && source[i + 1] === '\n') {
      rows.push([...row, value])
      row = []
      value = ''
      i++
    } else value += c
  }
  return rows
}
