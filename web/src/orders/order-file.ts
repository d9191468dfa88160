import type { Issue } from '@haspwright/engine'

/** Larger than any order can be: refused before it is read into memory. */
export const MOST_BYTES = 5_000_000

export type OrderFile =
  | { readonly ok: true; readonly content: unknown }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** An order as text, read as JSON; what is wrong with it in words that say where. */
export function readOrderText(text: string): OrderFile {
  const refuse = (message: string, allowed: string): OrderFile => ({
    ok: false,
    issues: [{ path: '', code: 'bad-format', message, allowed }],
  })
  if (text.trim() === '') return refuse('The file is empty.', 'one order, as JSON')
  if (text.length > MOST_BYTES) return refuse('The file is too large to be an order.', 'at most 5 MB')
  try {
    const content: unknown = JSON.parse(text)
    if (content === null || typeof content !== 'object' || Array.isArray(content))
      return refuse(
        'The file holds no order: an order is an object with named fields.',
        '{ "schema": "haspwright/order/1", … }',
      )
    return { ok: true, content }
  } catch (cause) {
    return refuse(`The file is not JSON: ${placeOf(cause, text)}.`, 'one order, as JSON')
  }
}

/** Browsers say where a text stops being JSON in their own ways; a line number is what helps. */
function placeOf(cause: unknown, text: string): string {
  const message = cause instanceof Error ? cause.message : ''
  const position = /position (\d+)/.exec(message)?.[1]
  if (position === undefined) return /end of (JSON|data)/i.test(message) ? 'it ends in the middle' : 'it cannot be read'
  const before = text.slice(0, Number(position)).split('\n')
  return `look at line ${before.length}, character ${(before.at(-1) ?? '').length + 1}`
}
