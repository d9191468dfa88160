import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto'
import { RegisterTrouble } from '../register-trouble.ts'

/** The row a sealed value belongs to: moved to another row, it does not open. */
export interface SealedRow {
  readonly table: string
  readonly worksId: string
  /** The rest of the primary key, in its order. */
  readonly key: readonly (string | number)[]
}

const FORM = 1
const NONCE_BYTES = 12
const TAG_BYTES = 16

/**
 * Seals bytes for one row under the works key, which is not in the database: AES-256-GCM (NIST SP 800-38D) with a random
 * 96-bit nonce, the row as additional data, and a key of its own derived with HKDF (RFC 5869, SHA-256).
 */
export function seal(worksKeyHex: string, row: SealedRow, plain: Uint8Array): Buffer {
  const nonce = randomBytes(NONCE_BYTES)
  const cipher = createCipheriv('aes-256-gcm', sealingKey(worksKeyHex, row.worksId), nonce, {
    authTagLength: TAG_BYTES,
  })
  cipher.setAAD(nameOf(row))
  const hidden = Buffer.concat([cipher.update(plain), cipher.final()])
  return Buffer.concat([Buffer.of(FORM), nonce, hidden, cipher.getAuthTag()])
}

/**
 * Opens what was sealed for this row.
 * @throws RegisterTrouble when it was changed, belongs to another row, or was sealed under another works key
 */
export function unseal(worksKeyHex: string, row: SealedRow, sealed: Uint8Array): Buffer {
  const place = `${row.table} ${row.key.join(', ')}`
  if (sealed[0] !== FORM || sealed.length < 1 + NONCE_BYTES + TAG_BYTES)
    throw new RegisterTrouble(place, 'This is not sealed in a form this version of Haspwright knows.')
  const bytes = Buffer.from(sealed)
  const key = sealingKey(worksKeyHex, row.worksId)
  const nonce = bytes.subarray(1, 1 + NONCE_BYTES)
  const opening = createDecipheriv('aes-256-gcm', key, nonce, { authTagLength: TAG_BYTES })
  opening.setAAD(nameOf(row))
  opening.setAuthTag(bytes.subarray(-TAG_BYTES))
  try {
    return Buffer.concat([opening.update(bytes.subarray(1 + NONCE_BYTES, -TAG_BYTES)), opening.final()])
  } catch (cause) {
    throw new RegisterTrouble(
      place,
      'The seal does not open: it was changed, belongs to another row, or another works key made it.',
      { cause },
    )
  }
}

/** Of its own use, so that neither the order of codes nor a blind code tells anything about a seal. */
function sealingKey(worksKeyHex: string, worksId: string): Buffer {
  return Buffer.from(hkdfSync('sha256', Buffer.from(worksKeyHex, 'hex'), '', `haspwright seal ${worksId}`, 32))
}

/** JSON keeps the parts apart: no two rows have the same bytes. */
const nameOf = ({ table, worksId, key }: SealedRow) => Buffer.from(JSON.stringify([FORM, table, worksId, ...key]))
