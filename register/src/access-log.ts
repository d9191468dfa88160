import { type FileHandle, open, readFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { Access, AccessLog } from './register.ts'
import { onDisk } from './register-trouble.ts'
import { withWriterLock } from './writer-lock.ts'

/** The access log as a file of one JSON object a line, flushed to the disk before anybody gets to see a code. */
export class FileAccessLog implements AccessLog {
  readonly #path: string
  readonly #now: () => Date

  constructor(path: string, now: () => Date) {
    this.#path = path
    this.#now = now
  }

  async record(access: Omit<Access, 'at'>): Promise<void> {
    await withWriterLock(dirname(this.#path), () => this.recordLocked(access))
  }

  /** The same for somebody who holds the writer lock already. */
  async recordLocked(access: Omit<Access, 'at'>): Promise<void> {
    const line = JSON.stringify({ at: this.#now().toISOString(), ...access } satisfies Access)
    await onDisk(this.#path, () => this.#append(line))
  }

  async #append(line: string): Promise<void> {
    const file = await open(this.#path, 'a+', 0o600)
    try {
      await file.appendFile(`${(await endsInMidLine(file)) ? '\n' : ''}${line}\n`)
      await file.sync()
    } finally {
      await file.close()
    }
  }

  async entries(): Promise<Access[]> {
    const text = await readFile(this.#path, 'utf8').catch((cause: NodeJS.ErrnoException) => {
      if (cause.code === 'ENOENT') return ''
      throw cause
    })
    return text.split('\n').flatMap(entryOf)
  }
}

/** A power cut may have left half a line; what follows must not be glued to it. */
async function endsInMidLine(file: FileHandle): Promise<boolean> {
  const { size } = await file.stat()
  if (size === 0) return false
  const { buffer } = await file.read(Buffer.alloc(1), 0, 1, size - 1)
  return buffer.toString() !== '\n'
}

function entryOf(line: string): Access[] {
  if (line === '') return []
  try {
    return [JSON.parse(line) as Access]
  } catch {
    return [] // the half line that a power cut left; it stays in the file
  }
}
