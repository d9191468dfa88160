import type { z } from 'zod'
import { answer, type Calculation } from '../calculation.ts'
import type { Evidence } from '../finding.ts'
import type { Setting } from './plan.ts'
import { Memory } from './remember.ts'

/** A room's answer with everything that a reader may want to see behind it, or the reason why there is none. */
export type Asked<I, O> =
  | { readonly ok: true; readonly input: I; readonly output: O; readonly evidence: Evidence }
  | { readonly ok: false; readonly because: string }

/** Asks a calculation and keeps its working, sources and notices. What the room refuses is not known, with its words. */
export function ask<I extends z.ZodObject, O extends z.ZodObject>(
  calculation: Calculation<I, O>,
  input: z.input<I>,
): Asked<z.output<I>, z.output<O>> {
  // A changed tolerance moves a few answers; all others come out of memory. What is asked here holds no cut and no key.
  const key = `${calculation.id} ${JSON.stringify(input)}`
  const known = answers.get(key)
  if (known !== undefined) return known as Asked<z.output<I>, z.output<O>>
  return answers.keep(key, askAfresh(calculation, input))
}

const answers = new Memory<unknown>(2000)

function askAfresh<I extends z.ZodObject, O extends z.ZodObject>(
  calculation: Calculation<I, O>,
  input: z.input<I>,
): Asked<z.output<I>, z.output<O>> {
  const result = answer(calculation, input)
  if (!result.ok) return { ok: false, because: result.issues.map((issue) => issue.message).join(' ') }
  const { id, working, sources } = calculation
  return {
    ok: true,
    input: result.input,
    output: result.output,
    evidence: {
      calculation: id,
      input: result.input,
      working: typeof working === 'string' ? working : working({ input: result.input, output: result.output }),
      sources,
      notices: result.notices,
    },
  }
}

/** A figure out of an answer as a setting; when there is no answer, the setting stands there as not known. */
export function settingFrom<I, O>(
  asked: Asked<I, O>,
  { title, unit, pick }: { title: string; unit: string; pick: (output: O) => number | string | undefined },
): Setting {
  if (!asked.ok) return { title, unit, value: null, because: asked.because }
  const value = pick(asked.output)
  return value === undefined
    ? { title, unit, value: null, because: 'The calculation gives no figure for this case.' }
    : { title, unit, value, evidence: asked.evidence }
}

/** A figure that the design or the works states. */
export function stated(title: string, value: number | string, unit = ''): Setting {
  return { title, value, unit }
}

/** A figure nobody knows yet. */
export function notKnown(title: string, unit: string, because: string): Setting {
  return { title, value: null, unit, because }
}
