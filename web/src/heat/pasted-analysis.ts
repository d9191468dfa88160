import { ELEMENTS } from '@haspwright/engine'
import { parseNumberText } from '../fields/number-text.ts'

/** What was read out of a pasted certificate. */
export interface PastedAnalysis {
  /** Percent by element, as it stood there. */
  readonly values: Readonly<Record<string, string>>
  /** What was not understood; nothing is passed over in silence. */
  readonly unread: readonly string[]
}

const isElement = (token: string) => (ELEMENTS as readonly string[]).includes(token)
const isSymbol = (token: string) => /^[A-Z][a-z]?$/.test(token)
const isNumber = (token: string) => parseNumberText(token) !== undefined

/**
 * Reads elements and their percent from pasted text: pairs (`C 0.41 Si 0.27`), or a row of elements and a row of figures. A comma is a
 * decimal comma unless the text has decimal points. Unknown elements, second values, figures without an element and other words are named.
 */
export function readPastedAnalysis(text: string): PastedAnalysis {
  const apart = /\d\.\d/.test(text) ? /[\s;:=|%,]+/ : /[\s;:=|%]+|,(?!\d)|(?<!\d),/
  const values: Record<string, string> = {}
  const unread: string[] = []
  const symbols: string[] = []
  for (const token of text.split(apart).filter((part) => part !== '')) {
    if (isSymbol(token)) symbols.push(token)
    else if (!isNumber(token)) unread.push(token)
    else {
      const symbol = symbols.shift()
      if (symbol !== undefined && isElement(symbol) && !(symbol in values)) values[symbol] = token
      else unread.push(symbol === undefined ? token : `${symbol} ${token}`)
    }
  }
  return { values, unread: [...unread, ...symbols] }
}
