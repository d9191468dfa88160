import type { Issue } from '@haspwright/engine'

/** Clocks of tablets go apart by minutes (common practice, no source). */
const AHEAD_MS = 5 * 60_000
const EARLIEST = new Date('2000-01-01T00:00:00Z')

/** Why something cannot have happened then. @param at what somebody says; `undefined` is now */
export function momentIssues(at: Date | undefined, { path, now }: { path: string; now: Date }): readonly Issue[] {
  if (at === undefined || (at >= EARLIEST && at.getTime() <= now.getTime() + AHEAD_MS)) return []
  return [
    {
      path,
      code: 'out-of-range',
      message: 'This cannot have happened then. Check date and clock.',
      value: Number.isNaN(at.getTime()) ? 'no date' : at.toISOString(),
      allowed: `from ${EARLIEST.toISOString()} to now`,
    },
  ]
}

/** Why something cannot end, or not then. @param ended what somebody says; `undefined` is now */
export function whyNotEnded(
  row: { readonly started_at: Date | null; readonly ended_at: Date | null },
  { ended, now }: { ended: Date | undefined; now: Date },
): readonly Issue[] {
  const path = 'endedAt'
  if (row.ended_at !== null)
    return [{ path, code: 'contradiction', message: `It ended already, at ${row.ended_at.toISOString()}.` }]
  const issues = momentIssues(ended, { path, now })
  const at = ended ?? now
  if (issues.length > 0 || row.started_at === null || at >= row.started_at) return issues
  return [
    {
      path,
      code: 'out-of-range',
      message: 'It cannot end before it begins.',
      value: at.toISOString(),
      allowed: `from ${row.started_at.toISOString()}`,
    },
  ]
}
