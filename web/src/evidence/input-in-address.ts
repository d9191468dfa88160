/**
 * The input of a calculation in the address, after the `#`: a colleague opens the same sheet, and no server sees it in its log.
 * Never used for what is secret.
 */
export function addressOf(input: unknown): string {
  return encodeURIComponent(JSON.stringify(input))
}

/** The input that an address holds, or `undefined` where it holds none that can be read. */
export function inputFrom(hash: string): unknown {
  const text = hash.replace(/^#/, '')
  if (text === '') return undefined
  try {
    return JSON.parse(text.startsWith('%') ? decodeURIComponent(text) : text) as unknown
  } catch {
    return undefined
  }
}
