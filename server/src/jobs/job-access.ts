import type { Job } from '@haspwright/register'
import type { Context } from 'hono'
import { judge, may } from '../access/caller.ts'
import { type AppEnv, actorOf } from '../access/routes.ts'

/** Who may look at jobs at all; which of them, `isShownTo` says. */
export const SEES_JOBS = may(['orders.read', 'designs.read', 'calculations.use'], 'orders:write')

/**
 * Orders, papers and solids are work of the house; a calculation may hold what its asker typed alone. A service account is shown
 * its own: its token says what it may hand in, not what it may read.
 */
export function isShownTo(c: Context<AppEnv>, { kind, asker }: Job): boolean {
  const caller = actorOf(c)
  return asker.id === caller.id || (caller.kind === 'person' && kind !== 'calculation')
}

export const mayFollow = (c: Context<AppEnv>, job: Job): boolean =>
  judge(c.var.caller, SEES_JOBS) === 'allowed' && isShownTo(c, job)
