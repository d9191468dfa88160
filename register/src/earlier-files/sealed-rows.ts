import { createDecipheriv } from 'node:crypto'
import { z } from 'zod'

/** Rows of a list of earlier codes as a file, each sealed by itself: they hold cuts. */
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

const NONCE_BYTES = 12
const TAG_BYTES = 16

/**
 * Opens a row: AES-256-GCM, its place as additional data; nonce ‖ tag ‖ cipher text, base64.
 * @param key 32 bytes, derived for earlier codes alone
 * @throws Error when key or place is another, or the row was changed
 */
export function openRow(key: Uint8Array, { space, list, line }: RowPlace, sealed: string): unknown {
  const bytes = Buffer.from(sealed, 'base64')
  const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, NONCE_BYTES), { authTagLength: TAG_BYTES })
  decipher.setAAD(Buffer.from(`haspwright earlier code ${space}/${list}/${line}`))
  decipher.setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES))
  const text = Buffer.concat([decipher.update(bytes.subarray(NONCE_BYTES + TAG_BYTES)), decipher.final()])
  return JSON.parse(text.toString('utf8'))
}
