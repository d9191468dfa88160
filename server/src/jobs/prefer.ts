import type { Context } from 'hono'

/** How a caller wants long work answered (RFC 7240, Prefer Header for HTTP). */
export interface Preference {
  /** `respond-async`: an answer at once that says where to look, where the work takes longer than the caller waits. */
  readonly isAsync: boolean
  /** `wait`, in milliseconds: so long the caller waits for the work itself. */
  readonly waitMs: number
}

const MOST_SECONDS = 3600

/** Reads the header; what it does not know it leaves aside, as the standard asks. */
export function preferenceOf({ req }: Pick<Context, 'req'>): Preference {
  const preferences = (req.header('prefer') ?? '')
    .toLowerCase()
    .split(',')
    .map((each) => each.split(';')[0]?.trim() ?? '')
  const seconds = preferences.map((each) => /^wait\s*=\s*"?([0-9]{1,6})"?$/.exec(each)?.[1]).find(Boolean) ?? '0'
  return {
    isAsync: preferences.includes('respond-async'),
    waitMs: Math.min(Number(seconds), MOST_SECONDS) * 1000,
  }
}
