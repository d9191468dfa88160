import { randomBytes } from 'node:crypto'
import { type FileHandle, open, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { makeFolder } from './make-folder.ts'
import { onDisk } from './register-trouble.ts'

/** What a process that dies while writing leaves behind begins so, and is never read. */
const UNFINISHED = '.unfinished-'

/**
 * Writes a file so that after a power cut it is there whole or not at all: a temporary file beside it, flushed to the disk,
 * renamed, and the folder flushed too.
 * @throws RegisterTrouble when the disk refuses
 */
export function writeWhole(path: string, content: string | Uint8Array, mode = 0o644): Promise<void> {
  return writeWholeFrom(path, (file) => file.writeFile(content), mode)
}

/** The same for a file too large to hold: `fill` writes it piece by piece. @throws whatever `fill` throws; the file is not there then */
export function writeWholeFrom(path: string, fill: (file: FileHandle) => Promise<void>, mode = 0o644): Promise<void> {
  return onDisk(path, () => write(path, fill, mode))
}

async function write(path: string, fill: (file: FileHandle) => Promise<void>, mode: number): Promise<void> {
  const folder = dirname(path)
  await makeFolder(folder)
  const temporary = join(folder, `${UNFINISHED}${process.pid}-${randomBytes(6).toString('hex')}`)
  try {
    const file = await open(temporary, 'wx', mode)
    try {
      await fill(file)
      await file.sync()
    } finally {
      await file.close()
    }
    await rename(temporary, path)
  } catch (cause) {
    await rm(temporary, { force: true })
    throw cause
  }
  await flushFolder(folder)
}

/** Makes a new or renamed entry of a folder outlast a power cut; not every system can flush a folder. */
async function flushFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}
