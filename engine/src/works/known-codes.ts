/**
 * What a code space has already, as the register keeps it: issue numbers as `runText` writes them, never a cut. Numbers say
 * nothing without the key of the works.
 */
export interface KnownCodes {
  /** Of keys that are out in the world: given to orders, withdrawn, or from before the tool. */
  readonly out: string
  /** That no key has and no order is given: reserved, or passed over. */
  readonly kept: string
  /** Lines of earlier orders with locks that more than one key opens. */
  readonly mastered: readonly MasteredLine[]
}

/** Who opens what in a line of an earlier order. */
export interface MasteredLine {
  readonly order: string
  readonly line: string
  /** Issue numbers of its keys, in order. */
  readonly numbers: string
  /** Of each lock the places of its keys among the numbers. */
  readonly locks: readonly (readonly number[])[]
}

/** Issue numbers that a line was given. Whoever keeps them can have the same codes again, whatever has been given out since. */
export interface GivenCodes {
  readonly line: string
  readonly design: string
  /** Of its keys, in the order of `lineKeys`. */
  readonly numbers: string
  /** Met on the way and left out because their key would open a mastered lock, or nearly: never to be given to anybody. */
  readonly passedOver: string
  /** For a line with locks that more than one key opens: of each lock the places of its keys. */
  readonly locks?: readonly (readonly number[])[]
}

export const NOTHING_KNOWN: KnownCodes = { out: '', kept: '', mastered: [] }
