import { cmac } from '@noble/ciphers/aes.js'

/** What a key of the works is derived for. Each purpose has a key of its own, so that one tells nothing of the other. */
export type KeyPurpose = 'issue order' | 'blind codes' | 'charts' | 'earlier codes'

const KEY_BYTES = 32

/**
 * A key for one purpose from the key of the works: key derivation in counter mode with AES-CMAC
 * (NIST SP 800-108, 4.1; written from memory of the standard), 256 bits.
 *
 * @param worksKey 16, 24 or 32 bytes
 */
export function deriveKey(worksKey: Uint8Array, purpose: KeyPurpose): Uint8Array {
  const label = Uint8Array.from(`haspwright ${purpose}`, (c) => c.charCodeAt(0))
  const derived = new Uint8Array(KEY_BYTES)
  for (let i = 0; i < KEY_BYTES / 16; i++) {
    // [i] ‖ label ‖ 0x00 ‖ [length in bits]
    const block = Uint8Array.from([0, i + 1, ...label, 0, (KEY_BYTES * 8) >> 8, (KEY_BYTES * 8) & 0xff])
    derived.set(cmac(block, worksKey), i * 16)
  }
  return derived
}
