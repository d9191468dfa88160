import type { CodeAllocation, Design, Issue, Order, Works } from '@haspwright/engine'

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

/** Gives out codes from the first free issue number of each design's code space, by design id. */
export type Allocate = (start: Readonly<Record<string, string>>) => Promise<Outcome<CodeAllocation>>

/** Which issue numbers belong to which order. No number is ever given to two orders. */
export interface CodeLedger {
  /**
   * Allocates the codes of an order. The first time numbers are reserved for it, and later calls for the same lines find the
   * same numbers again. `allocate` must give the same for the same start; it may be called more than once.
   */
  reserve(order: Order, designs: readonly Design[], allocate: Allocate): Promise<Outcome<CodeAllocation>>
  /** How far the code space of a design has been given out. Tells numbers, never a code. */
  givenOut(design: Design): Promise<GivenOut>
  /** The blind code a lock was delivered under, `undefined` when no such lock was. */
  blindCodeOf(lock: { order: string; line: string; number: number }): Promise<string | undefined>
}

/** How many issue numbers of a code space belong to orders. */
export interface GivenOut {
  /** Name of the space: the same for all designs with the same discs, values and rules. */
  readonly space: string
  /** Numbers that are used up, whole, as text: they may be many. */
  readonly numbers: string
  /** Orders that hold numbers of it. */
  readonly orders: readonly string[]
}

/** Somebody saw codes. */
export interface Access {
  /** Date and time, ISO 8601. */
  readonly at: string
  /** Who, as far as is known while nobody signs in. */
  readonly who: string
  readonly order: string
  /** The paper that was opened. */
  readonly paper: string
  readonly reason: string
}

/** Who saw codes and why: only ever added to. */
export interface AccessLog {
  record(access: Omit<Access, 'at'>): Promise<void>
  entries(): Promise<Access[]>
}
