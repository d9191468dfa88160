/**
 * Bad input, as a value: what is wrong, where, and what would be right. All issues of an input are reported at once.
 * Anything that is not the caller's doing is a fault: thrown as it is, never turned into an issue.
 */
export interface Issue {
  /** Where in the input: `pieces[2].lengthMm`; empty for the input as a whole. */
  readonly path: string
  readonly code: IssueCode
  /** In shop words, with what to do. */
  readonly message: string
  /** What was given; absent when nothing was, withheld when it is a secret. */
  readonly value?: unknown
  /** What would be accepted: `above 0 mm, at most 500 mm`. */
  readonly allowed?: string
}

export const ISSUE_CODES = [
  'missing',
  'wrong-type',
  'out-of-range',
  'not-a-choice',
  'unknown-field',
  'too-few',
  'too-many',
  'bad-format',
  'not-found',
  'contradiction',
  'out-of-reach',
  'not-converged',
  /** Right as it is, but not to be undone: it is asked for once more, with a reason. */
  'needs-confirmation',
  /** Nobody is signed in, or the sign-in went wrong. */
  'not-signed-in',
  /** Somebody is signed in who may not do this. */
  'not-allowed',
  'too-often',
] as const
export type IssueCode = (typeof ISSUE_CODES)[number]

/** Stands in an issue where the offending value is a cut, a key or a code. */
export const WITHHELD = '(withheld)'

/** What a calculation returns in place of a result when the input, taken as a whole, cannot be answered. */
export class Refusal {
  readonly issues: readonly Issue[]
  constructor(issues: readonly Issue[]) {
    this.issues = issues
  }
}

/** Refuses an input with one or more issues. */
export function refuse(...issues: Issue[]): Refusal {
  return new Refusal(issues)
}

/** `['pieces', 2, 'lengthMm']` → `pieces[2].lengthMm`. */
export function pathText(path: readonly PropertyKey[]): string {
  return path
    .map((step, i) => (typeof step === 'number' ? `[${step}]` : `${i === 0 ? '' : '.'}${String(step)}`))
    .join('')
}
