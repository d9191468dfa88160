/**
 * Figures as people type them: comma or point for the decimals, thin or plain spaces between thousands, a true minus or a hyphen,
 * a power of ten as `1e-6` or `1 × 10^-6`.
 *
 * @returns the number, or `undefined` when the text is not one
 */
export function parseNumberText(typed: string): number | undefined {
  const plain = typed
    .trim()
    .replaceAll(/[\s\u00a0\u2009\u202f']/g, '')
    .replaceAll('\u2212', '-')
    .replace(/[×x*]10\^?(?=[-+\d])/i, 'e')
    .replace(',', '.')
  if (!/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(plain)) return undefined
  const value = Number(plain)
  return Number.isFinite(value) ? value : undefined
}

/** A number as it stands in a field: as short as it can be and still be the same number. */
export function numberText(value: number): string {
  return String(value).replace('-', '\u2212')
}

/**
 * The next figure up or down: the last printed decimal moves by one, `times` that with a modifier key. What was typed keeps its number of
 * decimals and its comma.
 *
 * @returns the new text, or the old one where it is not a number
 */
export function stepNumberText(typed: string, direction: 1 | -1, times = 1): string {
  const value = parseNumberText(typed)
  if (value === undefined || /e/i.test(typed)) return typed
  const decimals = /[.,](\d*)/.exec(typed)?.[1]?.length ?? 0
  const next = (value + direction * times * 10 ** -decimals).toFixed(decimals)
  const text = Number(next) === 0 ? next.replace('-', '') : next
  return (typed.includes(',') ? text.replace('.', ',') : text).replace('-', '\u2212')
}

/** Several figures pasted at once, from a column or a row of a spreadsheet. Commas between figures only count where a space follows. */
export function splitPasted(pasted: string): string[] {
  return pasted
    .trim()
    .split(/[\t\r\n;]+|,\s+|\s+/)
    .map((part) => part.trim())
    .filter((part) => part !== '')
}
