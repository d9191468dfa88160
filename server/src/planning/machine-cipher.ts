import { createCipheriv } from 'node:crypto'
import { provideBlockCipher } from '@haspwright/engine'

/** Lets the engine encipher blocks with the AES of this machine, which is many times faster than its own. Once for each thread. */
export function provideMachineCipher(): void {
  provideBlockCipher((key) => {
    const cipher = createCipheriv(`aes-${8 * key.length}-ecb`, key, null).setAutoPadding(false)
    return { encipher: (from, into) => into.set(cipher.update(from)) }
  })
}
