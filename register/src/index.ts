import type { backUp as backUpAll } from './backup/back-up.ts'
import type { inspectBackup as inspect } from './backup/inspect-backup.ts'
import type { moveIn as readMoved } from './backup/move-in.ts'
import type { moveOut as writeMoved } from './backup/move-out.ts'
import type { restore as bringBack } from './backup/restore.ts'
import type { openRegister as open } from './open-register.ts'

export type { BackupReport } from './backup/inspect-backup.ts'
export { LEAST_PASSPHRASE } from './backup/passphrase.ts'
export type { AuditOfAll } from './backup/restore.ts'
export { canonicalJson } from './code-space.ts'
export { DATA_VARIABLE, dataFolder } from './data-folder.ts'
export { documentDigest } from './document-digest.ts'
export { isDocumentName } from './document-names.ts'
export type { EventAudit } from './events/audit.ts'
export type { EventHead } from './events/event-chain.ts'
export type { FloorRegister } from './floor/floor-register.ts'
export type { LockOfLoad, Origin } from './floor/genealogy.ts'
export { LOAD_KINDS } from './floor/load-kinds.ts'
export type { FloorLoad } from './floor/loads.ts'
export type { FloorLot } from './floor/lots.ts'
export type { Measurement } from './floor/measurements.ts'
export type { FloorOperation } from './floor/operations.ts'
export type { Release } from './floor/releases.ts'
export { hasRegister } from './has-register.ts'
export type { Job, JobBook, JobState, NewJob, TakenJob } from './jobs/job.ts'
export type { Invitation } from './people/invitations.ts'
export type { LotInHand } from './people/lots-in-hand.ts'
export type { Person, Session } from './people/people.ts'
export type { PeopleRegister } from './people/people-register.ts'
export type { RateLimit } from './people/rate-limits.ts'
export type { Renewal, RenewalLeave, Renewed } from './people/renewals.ts'
export type { ReplacementRequest } from './people/replacements.ts'
export type { ServiceToken } from './people/service-tokens.ts'
export { actorText, type Somebody } from './people/somebody.ts'
export type { MadeFile, MadeFiles, MadeKind, NewFile } from './plans/made-files.ts'
export type { PlanBasis, PlanStanding, PlanStore } from './plans/plan-store.ts'
export { type JsonOutcome, jsonIssue, MAX_JSON_BYTES, parseJson, readAtMost, readJsonFile } from './read-json.ts'
export {
  type Access,
  type AccessLog,
  type Actor,
  type Allocate,
  type AllocationStart,
  type Because,
  type CodeAct,
  type CodeLedger,
  type CodeName,
  type EarlierList,
  type GivenOut,
  type Giving,
  type Outcome,
  type Page,
  PLANNING,
  type Register,
  type Saved,
  type Saving,
  type Shelf,
  type Version,
  WORKS_ID,
} from './register.ts'
export { onDisk, RegisterTrouble } from './register-trouble.ts'
export { writeWhole } from './whole-file.ts'

/** Opens the register; the driver of the database is loaded only then. */
export const openRegister: typeof open = async (...given) => (await import('./open-register.ts')).openRegister(...given)

/** Writes the whole register to a file under a passphrase. */
export const backUp: typeof backUpAll = async (...given) => (await import('./backup/back-up.ts')).backUp(...given)
/** Proves a backup whole and tells what is in it. */
export const inspectBackup: typeof inspect = async (...given) =>
  (await import('./backup/inspect-backup.ts')).inspectBackup(...given)
/** Brings a backup into an empty register. */
export const restore: typeof bringBack = async (...given) => (await import('./backup/restore.ts')).restore(...given)
/** Writes the whole register into a folder of open files. */
export const moveOut: typeof writeMoved = async (...given) => (await import('./backup/move-out.ts')).moveOut(...given)
/** Brings such a folder into an empty register. */
export const moveIn: typeof readMoved = async (...given) => (await import('./backup/move-in.ts')).moveIn(...given)
