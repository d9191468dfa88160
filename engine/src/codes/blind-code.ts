import { CHECK_SCHEMES, checkHolds } from './check-characters.ts'
import { ff1 } from './ff1.ts'

/** Whose blind codes: the key of the works, the space the codes come from, and how long the blind codes are. */
export interface BlindCodeBook {
  /** 16, 24 or 32 bytes; not the key of the issue order. */
  readonly key: Uint8Array
  /** Name of the code space; books of other spaces are unrelated under the same key. */
  readonly spaceId: string
  /** Characters without the check character, 4 to 24: 36 to that power blind codes. 6, for two thousand million, unless given. */
  readonly length?: number
}

const { alphabet: ALPHABET, checkCharacter } = CHECK_SCHEMES['iso7064-mod37-36']

/**
 * The blind code of an issue number: what is stamped on lock and tag, and tells neither the cuts nor the order of issue.
 *
 * The number, written in base 36, is enciphered with FF1 under the works key with the space as tweak, so that blind codes
 * never collide; an ISO/IEC 7064 MOD 37,36 check character follows. Characters: 0–9 and A–Z.
 *
 * @throws RangeError when the number needs more characters than the book has
 */
export function blindCode(book: BlindCodeBook, issueNumber: bigint): string {
  const length = lengthOf(book)
  if (issueNumber < 0n || issueNumber >= 36n ** BigInt(length))
    throw new RangeError('The issue number is too large for blind codes of this length.')
  const plain = issueNumber.toString(36).padStart(length, '0')
  const digits = cipherOf(book, length).encipher(Array.from(plain, (c) => Number.parseInt(c, 36)))
  const hidden = digits.map((digit) => ALPHABET[digit] ?? '').join('')
  return hidden + checkCharacter(hidden)
}

/** The issue number behind a blind code, or `undefined` when the text is none of the book's: wrong length, character or check. */
export function issueNumberOf(book: BlindCodeBook, text: string): bigint | undefined {
  const length = lengthOf(book)
  if (text.length !== length + 1 || Array.from(text).some((c) => !ALPHABET.includes(c))) return undefined
  if (!checkHolds('iso7064-mod37-36', text)) return undefined
  const hidden = Array.from(text.slice(0, -1), (c) => ALPHABET.indexOf(c))
  return cipherOf(book, length)
    .decipher(hidden)
    .reduce((number, digit) => number * 36n + BigInt(digit), 0n)
}

function lengthOf({ length = 6 }: BlindCodeBook): number {
  if (!Number.isInteger(length) || length < 4 || length > 24)
    throw new RangeError('Blind codes have 4 to 24 characters.')
  return length
}

/** Sixteen bits a character, so that no two texts share their bytes. */
function bytesOfText(text: string): Uint8Array {
  return Uint8Array.from(
    Array.from({ length: text.length }, (_, i) => [text.charCodeAt(i) >> 8, text.charCodeAt(i) & 255]).flat(),
  )
}

function cipherOf({ key, spaceId }: BlindCodeBook, length: number) {
  return ff1({ key, tweak: bytesOfText(`blind code ${spaceId}`), radix: 36, length })
}
