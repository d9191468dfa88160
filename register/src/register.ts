import type { CodeAllocation, Design, GivenCodes, Issue, KnownCodes, Order, Works } from '@haspwright/engine'

/**
 * Where designs, orders, works and issued codes are kept. The file register is one implementation; a database can be
 * another. Every function throws `RegisterTrouble` when what is stored is damaged, and then has changed nothing.
 */
export interface Register {
  readonly designs: Shelf<Design>
  readonly orders: Shelf<Order>
  /** One document, under the id `works`. */
  readonly works: Shelf<Works>
  readonly codes: CodeLedger
  readonly access: AccessLog
  /** The secret that orders the codes, as hex; made at first use. Never printed, never sent. */
  worksKey(): Promise<string>
}

/** The id under which the works is kept. */
export const WORKS_ID = 'works'

/** One version of a document, as it was stored. */
export interface Version<T> {
  readonly id: string
  /** Counted from 1. */
  readonly version: number
  readonly content: T
  readonly savedAt: string
}

/** What saving comes to: stored, refused, or somebody else was faster. */
export type Saved<T> =
  | { readonly ok: true; readonly saved: Version<T> }
  | { readonly ok: false; readonly conflict: Version<T>; readonly issues?: never }
  | { readonly ok: false; readonly conflict?: never; readonly issues: readonly Issue[] }

/** Documents of one kind, each in versions that are never overwritten. */
export interface Shelf<T> {
  ids(): Promise<string[]>
  /** Numbers of the stored versions, oldest first. */
  versions(id: string): Promise<number[]>
  latest(id: string): Promise<Version<T> | undefined>
  version(id: string, version: number): Promise<Version<T> | undefined>
  /**
   * Stores a new version. Storing what is stored already answers with that.
   * @param expected the version this one follows, 0 for a new document; left out: whatever is there
   */
  save(id: string, content: T, expected?: number): Promise<Saved<T>>
}

/** The result of something that checks its input. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** What codes of an order are allocated from: what each design's space has already, or the numbers the order has. */
export interface AllocationStart {
  /** By design id. */
  readonly known: Readonly<Record<string, KnownCodes>>
  /** Of an order that has its codes: it gets the same again. */
  readonly given?: readonly GivenCodes[]
}

export type Allocate = (start: AllocationStart) => Promise<Outcome<CodeAllocation>>

/** Who does something that is written down, and why. */
export interface Because {
  readonly who: string
  readonly reason: string
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
  reserve(
    order: Order,
    designs: readonly Design[],
    allocate: Allocate,
    newCodes?: Because,
  ): Promise<Outcome<CodeAllocation>>
  /** What has become of the code space of a design. Tells numbers, never a code. */
  givenOut(design: Design): Promise<GivenOut>
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
  /** Who, as far as is known while nobody signs in. */
  readonly who: string
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
  entries(): Promise<Access[]>
}
