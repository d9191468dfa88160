import type { Issue } from '@haspwright/engine'

/**
 * Something in the data folder is not as it must be: a damaged file, a lock nobody gives back, a key that does not belong
 * here. Nothing has been changed or overwritten when this is thrown. A person can mend it, so it is told to them as an issue.
 */
export class RegisterTrouble extends Error {
  readonly issues: readonly Issue[]

  /** @param file where the trouble is, as the person finds it; @param message what is wrong and what to do */
  constructor(file: string, message: string, { issues, cause }: { issues?: readonly Issue[]; cause?: unknown } = {}) {
    super(`${file}: ${message}`, { cause })
    this.name = 'RegisterTrouble'
    this.issues = [
      { path: file, code: 'bad-format', message },
      ...(issues ?? []).map((issue) => ({ ...issue, path: `${file}: ${issue.path}` })),
    ]
  }
}

const REFUSALS: Readonly<Record<string, string>> = {
  EACCES: 'It may not be written. Ask for the right to write there, or take another folder.',
  EPERM: 'It may not be written. Ask for the right to write there, or take another folder.',
  EROFS: 'It stands on a disk that can only be read. Take another folder.',
  ENOSPC: 'The disk is full. Make room and try again.',
  EDQUOT: 'Your share of the disk is full. Make room and try again.',
  ENOTDIR: 'A part of this path is a file, not a folder. Take another folder.',
  EEXIST: 'There is a file of this name where a folder is needed. Take another folder.',
}

/** Does a piece of writing; a disk that refuses is a trouble a person can mend, not a fault of ours. */
export async function onDisk<T>(path: string, write: () => Promise<T>): Promise<T> {
  try {
    return await write()
  } catch (cause) {
    const words = REFUSALS[(cause as NodeJS.ErrnoException).code ?? '']
    throw words === undefined ? cause : new RegisterTrouble(path, words, { cause })
  }
}
