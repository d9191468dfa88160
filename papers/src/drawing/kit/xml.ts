const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}

/** Characters that no XML 1.0 document should hold: controls but tab and line ends, lone surrogates, non-characters. */
const FORBIDDEN = /(?![\t\n\r])\p{Cc}|\p{Cs}|[\ufffe\uffff]/gu

/** Text as it may stand in XML, in an element or an attribute. */
export function escapeXml(text: string): string {
  return text.replace(FORBIDDEN, '\ufffd').replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character)
}

/** A coordinate, to a thousandth: finer than any screen or press, short in the file. */
export function coordinate(value: number): string {
  return String(Math.round(value * 1000) / 1000 || 0)
}

/** An identifier that XML and CSS both take, made from any text. */
export function identifier(text: string): string {
  return `d-${text.replace(/[^A-Za-z0-9_-]/g, '-')}`
}
