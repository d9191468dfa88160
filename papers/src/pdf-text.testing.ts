import { inflateSync } from 'node:zlib'

/** The words of each page of a PDF as our typesetter writes it: enough to test what stands on a sheet. */
export function pdfPages(bytes: Uint8Array): string[] {
  const objects = new Map<string, string>()
  const source = Buffer.from(bytes).toString('latin1')
  for (const [, number = '', body = ''] of source.matchAll(/(?:^|\n)(\d+) 0 obj\n([\s\S]*?)\nendobj/g))
    objects.set(number, body)
  const pages = [...objects.values()].filter((body) => /\/Type \/Page\n/.test(body))
  const kids = /\/Kids \[([^\]]+)\]/.exec(source)?.[1] ?? ''
  const order = [...kids.matchAll(/(\d+) 0 R/g)].map(([, number = '']) => objects.get(number) ?? '')
  const inOrder = order.filter((body) => pages.includes(body))
  return inOrder.map((page) => pageText(page, objects))
}

function pageText(page: string, objects: Map<string, string>): string {
  const fonts = new Map<string, Map<string, string>>()
  for (const [, name = '', number = ''] of page.matchAll(/\/(f\d+) (\d+) 0 R/g)) {
    const unicode = /\/ToUnicode (\d+) 0 R/.exec(objects.get(number) ?? '')?.[1]
    if (unicode !== undefined) fonts.set(name, characterMap(streamOf(objects.get(unicode) ?? '')))
  }
  const content = streamOf(objects.get(/\/Contents (\d+) 0 R/.exec(page)?.[1] ?? '') ?? '')
  let font = new Map<string, string>()
  let text = ''
  for (const token of tokens(content)) {
    if (token.kind === 'font') font = fonts.get(token.value) ?? font
    else if (token.kind === 'string')
      text += (token.value.match(/.{4}/g) ?? []).map((code) => font.get(code) ?? '').join('')
    else text += '\n'
  }
  return text
}

/** Fonts taken, strings as hexadecimal, and the ends of what is shown together. Parentheses may nest in a string. */
function* tokens(content: string): Generator<{ kind: 'font' | 'string' | 'shown'; value: string }> {
  const next = /\/(f\d+) [\d.]+ Tf|<([0-9a-fA-F]+)>|(\()|(T[Jj])\b/g
  for (let found = next.exec(content); found !== null; found = next.exec(content)) {
    const [, font, hex, open] = found
    if (font !== undefined) yield { kind: 'font', value: font }
    else if (hex !== undefined) yield { kind: 'string', value: hex.toLowerCase() }
    else if (open !== undefined) {
      const end = endOfString(content, next.lastIndex)
      yield {
        kind: 'string',
        value: Buffer.from(unescaped(content.slice(next.lastIndex, end)), 'latin1').toString('hex'),
      }
      next.lastIndex = end + 1
    } else yield { kind: 'shown', value: '' }
  }
}

function endOfString(content: string, from: number): number {
  let depth = 1
  for (let i = from; i < content.length; i++) {
    if (content[i] === '\\') i++
    else if (content[i] === '(') depth++
    else if (content[i] === ')' && --depth === 0) return i
  }
  return content.length
}

const unescaped = (literal: string) =>
  literal.replace(/\\([0-7]{1,3}|[\s\S])/g, (_, code: string) =>
    /[0-7]/.test(code)
      ? String.fromCharCode(Number.parseInt(code, 8))
      : ({ n: '\n', r: '\r', t: '\t', b: '\b', f: '\f' }[code] ?? code),
  )

function streamOf(body: string): string {
  const start = body.indexOf('stream\n') + 7
  if (start < 7) return ''
  const raw = Buffer.from(body.slice(start, body.lastIndexOf('\nendstream')), 'latin1')
  return /FlateDecode/.test(body) ? inflateSync(raw).toString('latin1') : raw.toString('latin1')
}

function characterMap(cmap: string): Map<string, string> {
  const map = new Map<string, string>()
  for (const [, block = ''] of cmap.matchAll(/beginbfchar([\s\S]*?)endbfchar/g))
    for (const [, code = '', unicode = ''] of block.matchAll(/<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>/g))
      map.set(code.toLowerCase(), utf16(unicode))
  for (const [, block = ''] of cmap.matchAll(/beginbfrange([\s\S]*?)endbfrange/g))
    for (const [, from = '', to = '', first = ''] of block.matchAll(
      /<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>/g,
    ))
      for (let code = Number.parseInt(from, 16), i = 0; code <= Number.parseInt(to, 16); code++, i++)
        map.set(code.toString(16).padStart(4, '0'), String.fromCodePoint(Number.parseInt(first, 16) + i))
  return map
}

const utf16 = (hex: string) => Buffer.from(hex, 'hex').swap16().toString('utf16le')
