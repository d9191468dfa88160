import type { z } from 'zod'
import type { Caution } from './caution.ts'
import { formatNumber, formatQuantity } from './display.ts'
import { type Issue, Refusal } from './issue.ts'
import { read } from './reading.ts'
import { untrusted } from './schema.ts'
import type { Source } from './source.ts'

/** One line of a working: the formula, and the same with the numbers put in. Both TeX. */
export interface WorkingStep {
  /** What this line finds, in words. */
  readonly finds: string
  readonly formula: string
  readonly filled: string
}

/**
 * A case from outside: an input, and what a publication says comes out.
 * The tests over the list run every one of them; the reference pages print them.
 */
export interface Example<I, O> {
  /** What it is, with table, row or page: `nickel, 6 µm at 2 A/dm² (time chart, row 6 µm)`. */
  readonly title: string
  readonly source: Source
  readonly input: I
  /** The part of the output that the publication states. Numbers are compared within `tolerance`. */
  readonly output: DeepPartial<O>
  /** Largest accepted difference of a number, absolute or relative. Left out: exact. */
  readonly tolerance?: { readonly absolute: number } | { readonly relative: number }
  /** Why this tolerance: `two printed figures`. */
  readonly reason?: string
}

type DeepPartial<T> = T extends readonly (infer E)[]
  ? readonly DeepPartial<E>[]
  : T extends object
    ? { readonly [K in keyof T]?: DeepPartial<T[K]> }
    : T

/** What a running calculation may say besides its result. */
export interface Report {
  /** Answered, but on an assumption or outside the range a formula was checked in; travels with the answer. */
  notice(text: string): void
}

/** Turns `aborted` when nobody waits any more; an AbortSignal is one. */
export interface Cancellation {
  readonly aborted: boolean
}
const UNCANCELLED: Cancellation = Object.freeze({ aborted: false })

/** What a long calculation is given besides its input. */
export interface LongReport extends Report {
  /** Share done, 0 to 1, and what is being done. */
  progress(share: number, doing: string): void
  readonly signal: Cancellation
  /** Seconds since it began, by the clock of whoever waits; always 0 where no clock was handed in. */
  spentSeconds(): number
}

interface Declaration<I extends z.ZodObject, O extends z.ZodObject> {
  /** `room.name`, as in the contract. */
  readonly id: string
  readonly title: string
  /** What it answers and when to use it, one or two sentences. */
  readonly summary: string
  /** The governing equation as TeX; none for a search or a table. */
  readonly equation?: string
  /** What the result silently rests on. */
  readonly assumes?: readonly string[]
  readonly sources: readonly [Source, ...Source[]]
  readonly cautions?: readonly Caution[]
  /** Input or output holds cuts or keys: never logged, never cached, no working shown. */
  readonly secret?: true
  readonly input: I
  readonly output: O
  readonly examples: readonly [Example<z.input<I>, z.output<O>>, ...Example<z.input<I>, z.output<O>>[]]
  /** The formula with the numbers put in; for what is found by search or enumeration, a sentence on the method. */
  readonly working: string | ((done: { input: z.output<I>; output: z.output<O> }) => readonly WorkingStep[])
}

/** A computation a user can name, declared once; command line, API, forms, documents and tests all read this. */
export interface Calculation<I extends z.ZodObject = z.ZodObject, O extends z.ZodObject = z.ZodObject>
  extends Declaration<I, O> {
  readonly kind: 'short'
  run(input: z.output<I>, report: Report): z.output<O> | Refusal
}

/** A calculation that may take longer than a frame: it reports progress and can be cancelled. */
export interface LongCalculation<I extends z.ZodObject = z.ZodObject, O extends z.ZodObject = z.ZodObject>
  extends Declaration<I, O> {
  readonly kind: 'long'
  run(input: z.output<I>, report: LongReport): Promise<z.output<O> | Refusal>
}

// biome-ignore lint/suspicious/noExplicitAny: the list holds calculations of every shape; each is typed where it is declared
export type AnyCalculation = Calculation<any, any> | LongCalculation<any, any>

/** Declares a calculation that answers at once. */
export function calculation<I extends z.ZodObject, O extends z.ZodObject>(
  declared: Omit<Calculation<I, O>, 'kind'>,
): Calculation<I, O> {
  return { ...declared, kind: 'short' }
}

/** Declares a calculation that may take a while. */
export function longCalculation<I extends z.ZodObject, O extends z.ZodObject>(
  declared: Omit<LongCalculation<I, O>, 'kind'>,
): LongCalculation<I, O> {
  return { ...declared, kind: 'long' }
}

/** The result with its notices, or everything that is wrong with the input. */
export type Answer<I, O> =
  | { readonly ok: true; readonly input: I; readonly output: O; readonly notices: readonly string[] }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/**
 * Answers a calculation that answers at once.
 * @throws only on a fault of ours; a bad input is an answer with issues
 */
export function answer<I extends z.ZodObject, O extends z.ZodObject>(
  { input: schema, run }: Calculation<I, O>,
  given: unknown,
): Answer<z.output<I>, z.output<O>> {
  const reading = read(schema, given)
  if (!reading.ok) return reading
  const notices = rangeNotices(schema, reading.value)
  const result = run(reading.value, { notice: (text) => notices.push(text) })
  return result instanceof Refusal
    ? { ok: false, issues: result.issues }
    : { ok: true, input: reading.value, output: result, notices }
}

/** What a long calculation may be given by whoever waits for it. */
export interface Waiting {
  readonly signal?: Cancellation
  readonly progress?: (share: number, doing: string) => void
  /** A clock in milliseconds, so that a time limit holds: the engine has none of its own. */
  readonly clock?: () => number
}

/** Answers any calculation, short or long. */
export async function answerAny(
  calculation: AnyCalculation,
  given: unknown,
  { signal = UNCANCELLED, progress = () => {}, clock }: Waiting = {},
): Promise<Answer<Record<string, unknown>, Record<string, unknown>>> {
  if (calculation.kind === 'short') return answer(calculation, given)
  return answerLong(calculation, given, { signal, progress, ...(clock === undefined ? {} : { clock }) })
}

/** Answers a long calculation, typed. */
export async function answerLong<I extends z.ZodObject, O extends z.ZodObject>(
  { input: schema, run }: LongCalculation<I, O>,
  given: unknown,
  { signal = UNCANCELLED, progress = () => {}, clock }: Waiting = {},
): Promise<Answer<z.output<I>, z.output<O>>> {
  const reading = read(schema, given)
  if (!reading.ok) return reading
  const notices = rangeNotices(schema, reading.value)
  const began = clock?.() ?? 0
  const spentSeconds = () => ((clock?.() ?? 0) - began) / 1000 // ms → s
  const result = await run(reading.value, { notice: (text) => notices.push(text), progress, signal, spentSeconds })
  return result instanceof Refusal
    ? { ok: false, issues: result.issues }
    : { ok: true, input: reading.value, output: result, notices }
}

function rangeNotices(schema: z.ZodType, value: unknown): string[] {
  return untrusted(schema, value).map(
    ({ title, unit, value: v, range: [low, high] }) =>
      `${title} ${formatQuantity(v, unit)} is outside ${formatNumber(low)} to ${formatQuantity(high, unit)}, the range the formula was checked in.`,
  )
}
