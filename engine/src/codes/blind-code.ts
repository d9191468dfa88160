import { CHECK_SCHEMES, type CheckSchemeName, checkHolds } from './check-characters.ts'
import { ff1 } from './ff1.ts'

/** Whose blind codes: the key of the works, the space the codes come from, and how many codes it has. */
export interface BlindCodeBook {
  /** 16, 24 or 32 bytes; not the key of the issue order. */
  readonly key: Uint8Array
  /** Name of the code space; books of other spaces are unrelated under the same key. */
  readonly spaceId: string
  /** Codes of the space: every one of its issue numbers must have a blind code. */
  readonly usable: bigint
}

/** What blind codes are written with: alphabet with check character, and characters before the check character. */
interface Writing {
  readonly scheme: CheckSchemeName
  readonly length: number
}

/** Blind codes stamped before the alphabet without look-alikes came: read for ever, written no more. */
const EARLIER: Writing = { scheme: 'iso7064-mod37-36', length: 6 }

/** Thirteen thousand million blind codes; also one character longer than the earlier ones, so that length tells which is which. */
const LEAST_LENGTH = 7

/**
 * The blind code of an issue number: what is stamped on lock and tag, and tells neither the cuts nor the order of issue.
 *
 * The number, written in the 28 digits and capitals that no stamp and no tired eye takes for one another, is enciphered with FF1
 * under the works key with the space as tweak, so that blind codes never collide; a check character follows. Seven characters
 * and the check, more for spaces of more codes: all codes of a space are equally long, so that length tells nothing of the key.
 *
 * @throws RangeError for a number outside the space
 */
export function blindCode(book: BlindCodeBook, issueNumber: bigint): string {
  if (issueNumber < 0n || issueNumber >= book.usable)
    throw new RangeError('The space has no code of this issue number.')
  const writing = writingOf(book)
  const { alphabet, checkCharacter } = CHECK_SCHEMES[writing.scheme]
  const radix = BigInt(alphabet.length)
  const plain = new Array<number>(writing.length)
  for (let k = writing.length - 1, rest = issueNumber; k >= 0; k--, rest /= radix) plain[k] = Number(rest % radix)
  const hidden = cipherOf(book, writing)
    .encipher(plain)
    .map((digit) => alphabet[digit] ?? '')
    .join('')
  return hidden + checkCharacter(hidden)
}

/** The issue number behind a blind code, or `undefined` when the text is none of the book's: wrong length, character or check. */
export function issueNumberOf(book: BlindCodeBook, text: string): bigint | undefined {
  const writing = [writingOf(book), EARLIER].find(({ length }) => text.length === length + 1)
  if (writing === undefined) return undefined
  const { alphabet } = CHECK_SCHEMES[writing.scheme]
  if (Array.from(text).some((c) => !alphabet.includes(c)) || !checkHolds(writing.scheme, text)) return undefined
  const hidden = Array.from(text.slice(0, -1), (c) => alphabet.indexOf(c))
  const number = cipherOf(book, writing)
    .decipher(hidden)
    .reduce((sum, digit) => sum * BigInt(alphabet.length) + BigInt(digit), 0n)
  return number < book.usable ? number : undefined
}

function writingOf({ usable }: BlindCodeBook): Writing {
  let length = LEAST_LENGTH
  while (BigInt(CHECK_SCHEMES.unmistakable.alphabet.length) ** BigInt(length) < usable) length++
  return { scheme: 'unmistakable', length }
}

/** Sixteen bits a character, so that no two texts share their bytes. */
function bytesOfText(text: string): Uint8Array {
  return Uint8Array.from(
    Array.from({ length: text.length }, (_, i) => [text.charCodeAt(i) >> 8, text.charCodeAt(i) & 255]).flat(),
  )
}

function cipherOf({ key, spaceId }: BlindCodeBook, { scheme, length }: Writing) {
  return ff1({
    key,
    tweak: bytesOfText(`blind code ${spaceId}`),
    radix: CHECK_SCHEMES[scheme].alphabet.length,
    length,
  })
}
