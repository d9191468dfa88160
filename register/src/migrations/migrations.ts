import type { Migration } from 'kysely'
import { documentsAndEvents } from './2026-11-25-1-documents-and-events.ts'
import { codes } from './2026-11-25-2-codes.ts'
import { shopFloor } from './2026-11-25-3-shop-floor.ts'
import { people } from './2026-11-25-6-people.ts'
import { plansAndJobs } from './2026-11-26-1-plans-and-jobs.ts'
import { floor } from './2026-11-26-2-floor.ts'
import { renewals } from './2026-11-26-3-renewals.ts'

/** Every change of the tables since the beginning, in order. One that was released is never edited: the next one follows. */
export const migrations: Readonly<Record<string, Migration>> = {
  '2026-11-25-1-documents-and-events': documentsAndEvents,
  '2026-11-25-2-codes': codes,
  '2026-11-25-3-shop-floor': shopFloor,
  '2026-11-25-6-people': people,
  '2026-11-26-1-plans-and-jobs': plansAndJobs,
  '2026-11-26-2-floor': floor,
  '2026-11-26-3-renewals': renewals,
}
