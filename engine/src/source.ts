/** How far a source can be trusted, in the words every list and page uses. */
export const SOURCE_STATUSES = [
  'standard',
  'handbook',
  'paper',
  'common practice (no source)',
  'from memory (unverified)',
] as const
export type SourceStatus = (typeof SOURCE_STATUSES)[number]

/**
 * Where a formula, a table or a check value comes from.
 *
 * `status` is `standard`, `handbook` or `paper` only when the text itself, or a public copy of it, was read;
 * a number recalled from a standard is `from memory (unverified)`, and `citation` then names what to confirm it in.
 */
export interface Source {
  /** Stable, dotted, kebab-case: `nist.sp-800-38g`. */
  readonly id: string
  readonly status: SourceStatus
  /** Author, title, edition, year. */
  readonly citation: string
  /** Table, page, clause or example within it. */
  readonly place?: string
  /** What a reader should know before leaning on it: how it was read, what it does not cover. */
  readonly note?: string
}

/** Declares a source. Sources with the same `id` are one and the same and must be declared once. */
export function source(declared: Source): Source {
  return Object.freeze(declared)
}

/** Verified against a publication: the status names something that was read. */
export function isPublished({ status }: Source): boolean {
  return status === 'standard' || status === 'handbook' || status === 'paper'
}
