import { createHash, randomBytes } from 'node:crypto'

/** Letters and digits that are not taken for one another. */
const ALPHABET = '23456789abcdefghjkmnpqrstvwxyz'

/** 256 bits that let somebody in: shown once, kept only as its hash. */
export function newSecret(): { secret: string; hash: Buffer } {
  const secret = randomBytes(32).toString('base64url')
  return { secret, hash: hashOfSecret(secret) }
}

/** A plain hash is enough for what nobody can guess: 256 random bits. */
export const hashOfSecret = (secret: string): Buffer => createHash('sha256').update(secret).digest()

/** A short number for a thing people talk about: `p-4k7m2xq9`. */
export function newNumber(kind: string): string {
  const letters = [...randomBytes(8)].map((byte) => ALPHABET[byte % ALPHABET.length])
  return `${kind}-${letters.join('')}`
}
