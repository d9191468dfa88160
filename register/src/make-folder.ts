import { mkdir } from 'node:fs/promises'

/** Makes a folder and those above it. On a disk that can only be read, Node says of many folders at once only that there is none. */
export async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true })
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') throw cause
    await mkdir(folder) // says what really keeps it from being made
  }
}
