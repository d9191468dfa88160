import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto'
import { z } from 'zod'

/** Rows of a list of earlier codes, each sealed by itself: they hold cuts. */
export const SealedRows = z.strictObject({
  schema: z.literal('haspwright/sealed-rows/1'),
  rows: z.array(z.strictObject({ line: z.int().min(1), sealed: z.base64() })),
})

/** Where a sealed row belongs. Moved elsewhere, it does not open. */
export interface RowPlace {
  readonly space: string
  readonly list: string
  readonly line: number
}

const CIPHER = 'aes-256-gcm'
const NONCE_BYTES = 12
const TAG_BYTES = 16

/**
 * Seals a row with AES-256-GCM, its place as additional data: nonce ‖ tag ‖ cipher text, base64. The nonce is drawn anew for each
 * row; with 96 random bits one key may seal some thousand million rows (NIST SP 800-38D, 8.3; from memory, unverified).
 *
 * @param key 32 bytes, derived for earlier codes alone
 */
export function sealRow(key: Uint8Array, place: RowPlace, row: unknown): string {
  const nonce = randomBytes(NONCE_BYTES)
  const cipher = createCipheriv(CIPHER, key, nonce).setAAD(bytesOf(place))
  const text = Buffer.concat([cipher.update(JSON.stringify(row), 'utf8'), cipher.final()])
  return Buffer.concat([nonce, cipher.getAuthTag(), text]).toString('base64')
}

/** Opens a row again. @throws Error when key or place is another, or the row was changed */
export function openRow(key: Uint8Array, place: RowPlace, sealed: string): unknown {
  const bytes = Buffer.from(sealed, 'base64')
  const decipher = createDecipheriv(CIPHER, key, bytes.subarray(0, NONCE_BYTES), { authTagLength: TAG_BYTES })
  decipher.setAAD(bytesOf(place)).setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES))
  const text = Buffer.concat([decipher.update(bytes.subarray(NONCE_BYTES + TAG_BYTES)), decipher.final()])
  return JSON.parse(text.toString('utf8'))
}

const bytesOf = ({ space, list, line }: RowPlace) => Buffer.from(`haspwright earlier code ${space}/${list}/${line}`)
