export { canonicalJson } from './code-space.ts'
export { type DatabaseRegister, type DatabaseRegisterOptions, openDatabaseRegister } from './database-register.ts'
export type { EventAudit } from './events/audit.ts'
export type { EventHead } from './events/event-chain.ts'
export { DATA_VARIABLE, dataFolder, openFileRegister } from './file-register.ts'
export type { Invitation } from './people/invitations.ts'
export type { LotInHand } from './people/lots-in-hand.ts'
export type { Person, Session } from './people/people.ts'
export type { PeopleRegister } from './people/people-register.ts'
export type { RateLimit } from './people/rate-limits.ts'
export type { ReplacementRequest } from './people/replacements.ts'
export type { ServiceToken } from './people/service-tokens.ts'
export type { Somebody } from './people/somebody.ts'
export { actorText } from './people/somebody.ts'
export { hasDatabase } from './postgres/database.ts'
export { type JsonOutcome, jsonIssue, MAX_JSON_BYTES, parseJson, readAtMost, readJsonFile } from './read-json.ts'
export {
  type Access,
  type AccessLog,
  type Allocate,
  type AllocationStart,
  type Because,
  type CodeAct,
  type CodeLedger,
  type CodeName,
  type EarlierList,
  type GivenOut,
  type Outcome,
  type Register,
  type Saved,
  type Shelf,
  type Version,
  WORKS_ID,
} from './register.ts'
export { onDisk, RegisterTrouble } from './register-trouble.ts'
export { writeWhole } from './whole-file.ts'
