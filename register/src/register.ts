import type { CodeAllocation, Design, GivenCodes, Issue, KnownCodes, Order, Works } from '@haspwright/engine'
import type { CodeGap } from './codes/audit-codes.ts'
import type { DrawnCode, DrawRequest } from './codes/draw-codes.ts'
import type { EventAudit } from './events/audit.ts'
import type { EventHead } from './events/event-chain.ts'
import type { FloorRegister } from './floor/floor-register.ts'
import type { JobBook } from './jobs/job.ts'
import type { PeopleRegister } from './people/people-register.ts'
import type { MadeFiles } from './plans/made-files.ts'
import type { PlanStore } from './plans/plan-store.ts'
import type { WorksKeys } from './sealing/works-keys.ts'

/**
 * Where designs, orders, works, issued codes and all that happened are kept: PostgreSQL. It holds connections, and the server
 * itself where that is ours: close it. Every function throws `RegisterTrouble` when what is stored is damaged or the database
 * cannot be had, and then has changed nothing.
 */
export interface Register {
  readonly designs: Shelf<Design>
  readonly orders: Shelf<Order>
  /** One document, under the id `works`. */
  readonly works: Shelf<Works>
  readonly codes: CodeLedger
  readonly access: AccessLog
  readonly people: PeopleRegister
  readonly plans: PlanStore
  readonly made: MadeFiles
  readonly jobs: JobBook
  readonly floor: FloorRegister
  /** The secret that orders the codes of new code spaces, as hex; made at first use. Never printed, never sent. */
  worksKey(): Promise<string>
  /** What is done to the works key itself. */
  readonly keys: WorksKeys
  /** The end of the chain of events; printed on certificates. */
  eventHead(): Promise<EventHead | undefined>
  /** Proves the chain of events. @param printed a head from a certificate, which the chain must hold */
  audit(printed?: EventHead): Promise<EventAudit>
  /** Places where the record of issued numbers does not add up. */
  auditCodes(): Promise<CodeGap[]>
  /** Draws a code for each lock: all on the disk when it returns, or none. */
  draw(request: AskedDraw): Promise<Outcome<readonly DrawnCode[]>>
  /** The codes of a space that are tied to locks, in the order they were drawn. */
  drawn(space: string): Promise<DrawnCode[]>
  close(): Promise<void>
}

/** A draw as it is asked for. The blind code is told the works key that the numbers of the space are read by. */
export type AskedDraw = Omit<DrawRequest, 'keyGeneration' | 'blindCodeOf'> & {
  readonly blindCodeOf: (number: bigint, worksKeyHex: string) => string
}

/** Who does something, by the name that events and the access log show. */
export type Actor = string

/** Who plans when nobody asked for it: plans that were not there yet, papers of a plan that was made. */
export const PLANNING: Actor = 'planning'

/** The id under which the works is kept. */
export const WORKS_ID = 'works'

/** One version of a document, as it was stored. */
export interface Version<T> {
  readonly id: string
  /** Counted from 1. */
  readonly version: number
  readonly content: T
  readonly savedAt: string
  /** SHA-256 of the content as it is stored, as hex: two versions that say the same in the same words have the same. */
  readonly digest: string
}

/** What saving comes to: stored, refused, or somebody else was faster. */
export type Saved<T> =
  | { readonly ok: true; readonly saved: Version<T> }
  | { readonly ok: false; readonly conflict: Version<T>; readonly issues?: never }
  | { readonly ok: false; readonly conflict?: never; readonly issues: readonly Issue[] }

/** A page of a long list. */
export interface Page<T> {
  readonly versions: readonly Version<T>[]
  /** What cannot be read, beside what can. */
  readonly issues: readonly Issue[]
  /** Where the next page goes on; absent on the last. */
  readonly next?: string | undefined
}

/** Documents of one kind, each in versions that are never overwritten. */
export interface Shelf<T> {
  ids(): Promise<string[]>
  /** The latest versions, the last ids first. @param before continues a page: its `next` */
  page(asked: { before?: string | undefined; most: number }): Promise<Page<T>>
  /** The latest versions of those of these ids that are stored. */
  latestOf(ids: readonly string[]): Promise<Version<T>[]>
  /** Numbers of the stored versions, oldest first. */
  versions(id: string): Promise<number[]>
  latest(id: string): Promise<Version<T> | undefined>
  version(id: string, version: number): Promise<Version<T> | undefined>
  /**
   * Stores a new version. Storing what is stored already answers with that.
   */
  save(id: string, content: T, by: Saving): Promise<Saved<T>>
}

/** Who stores a document, over which version. */
export interface Saving {
  readonly actor: Actor
  /** The version the new one follows, 0 for a new document; left out: whatever is there. */
  readonly expected?: number | undefined
}

/** The result of something that checks its input. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** What codes of an order are allocated from: what each design's space has already, or the numbers the order has. */
export interface AllocationStart {
  /** By design id. */
  readonly known: Readonly<Record<string, KnownCodes>>
  /** The works key that the numbers of each design's space are read by, by design id. Secret. */
  readonly worksKeys: Readonly<Record<string, string>>
  /** Of an order that has its codes: it gets the same again. */
  readonly given?: readonly GivenCodes[]
}

export type Allocate = (start: AllocationStart) => Promise<Outcome<CodeAllocation>>

/** Who does something that is written down, and why. */
export interface Because {
  readonly who: Actor
  readonly reason: string
}

/** On whose word an order is given codes. */
export interface Giving {
  readonly actor: Actor
  /** Why an order whose sheets were opened is given others. */
  readonly newCodes?: Because | undefined
}

/** Which issue numbers belong to which order, and which to none. No number is ever given twice. */
export interface CodeLedger {
  /**
   * Allocates the codes of an order. The first time numbers are reserved for it, and later calls for the same lines find the
   * same numbers again.
   *
   * Where the order was given codes before and its lines or mechanism have changed since, it gets new ones, and the earlier are
   * withdrawn. If their sheets were opened, that is refused with an issue `needs-confirmation` unless `newCodes` says why.
   */
  reserve(order: Order, designs: readonly Design[], allocate: Allocate, by: Giving): Promise<Outcome<CodeAllocation>>
  /** What has become of the code space of a design. Tells numbers, never a code. */
  givenOut(design: Design): Promise<GivenOut>
  /** The same of many designs, as it was at one moment. */
  allGivenOut(designs: readonly Design[]): Promise<GivenOut[]>
  /** The blind code a lock was delivered under, `undefined` when no such lock was. */
  blindCodeOf(lock: { order: string; line: string; number: number }): Promise<string | undefined>
  /** Takes a code out of use for good: lost, copied, or found open to another key. */
  withdraw(design: Design, code: CodeName, because: Because): Promise<Outcome<{ number: string }>>
  /** Keeps a range of numbers, both ends among them, from being given to orders. */
  reserveRange(design: Design, range: { from: string; to: string }, because: Because): Promise<Outcome<{ id: string }>>
  /** Gives a reserved range back. */
  release(design: Design, id: string, because: Because): Promise<Outcome<{ numbers: string }>>
  /**
   * Takes over the codes of a list that were given out before the tool came. Everything wrong with a line is an issue with the line
   * as its value, and nothing is taken over until each is put right or set aside.
   */
  takeOver(design: Design, list: EarlierList, because: Because): Promise<Outcome<{ id: string; codes: number }>>
  /** The numbers of locks that were taken over, by what the list called them: lock or blind code. */
  earlierBlindCode(design: Design, mark: string): Promise<string | undefined>
}

/** A code, by what is stamped or by its number. */
export type CodeName = { readonly blindCode: string } | { readonly number: string }

/** A list of earlier codes as CSV. Its text holds cuts. */
export interface EarlierList {
  readonly text: string
  readonly lowestCut?: 0 | 1
  /** Lines that somebody has looked at and leaves out for good. */
  readonly setAside?: readonly number[]
}

/** An act on issue numbers, as it is told. */
export interface CodeAct {
  /** Runs of numbers. */
  readonly numbers: string
  readonly count: string
  readonly reason: string
  readonly who: string
  readonly at: string
}

/** What has become of the issue numbers of a code space: each counted once, whole, as text: they may be many. */
export interface GivenOut {
  /** Name of the space: the same for all designs with the same discs, values and rules. */
  readonly space: string
  /** Numbers that belong to orders. */
  readonly numbers: string
  readonly withdrawn: string
  /** Given out before the tool came. */
  readonly imported: string
  /** Left out because their key would open a mastered lock. */
  readonly passedOver: string
  readonly reserved: string
  /** Orders that hold numbers of it. */
  readonly orders: readonly string[]
  readonly withdrawals: readonly CodeAct[]
  readonly reservations: readonly (CodeAct & { readonly id: string })[]
  readonly imports: readonly (Omit<CodeAct, 'numbers'> & { readonly id: string })[]
}

/** Somebody saw codes, or did something to them. */
export interface Access {
  /** Date and time, ISO 8601. */
  readonly at: string
  readonly who: Actor
  readonly reason: string
  readonly order?: string
  /** The paper that was opened. */
  readonly paper?: string
  /** What was done, to which numbers of which code space. */
  readonly act?: 'withdrawn' | 'reserved' | 'released' | 'taken over' | 'replaced'
  readonly space?: string
  readonly numbers?: string
}

/** Who saw codes and why: only ever added to. */
export interface AccessLog {
  record(access: Omit<Access, 'at'>): Promise<void>
  /** The oldest first. @param newest at most so many, of the newest */
  entries(asked?: { newest: number }): Promise<Access[]>
}
