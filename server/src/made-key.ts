import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { canonicalJson } from '@haspwright/register'

/** Equal exactly when the same program makes something from the same input. */
export function madeKey(input: unknown): string {
  return createHash('sha256').update(programFingerprint()).update(canonicalJson(input)).digest('hex').slice(0, 32)
}

let fingerprint: string | undefined

/** Of the program that computes and prints: what another one made must be made again. */
function programFingerprint(): string {
  fingerprint ??= ['engine', 'papers']
    .reduce((hash, name) => {
      const folder = new URL(`../../${name}/dist/`, import.meta.url)
      if (!existsSync(folder)) return hash
      const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.js'))
      for (const file of files.sort()) hash.update(file).update(readFileSync(new URL(file, folder)))
      return hash
    }, createHash('sha256'))
    .digest('hex')
  return fingerprint
}
