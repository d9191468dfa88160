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
