import {
  type AnyCalculation,
  answerAny,
  calculationById,
  calculations,
  type Issue,
  type Waiting,
} from '@haspwright/engine'

/** The result a calculation prints and sends: its output, with notices where there are any. */
export type CalculationResult =
  | { readonly ok: true; readonly result: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly issues: readonly Issue[] }

export async function calculate(
  calculation: AnyCalculation,
  input: unknown,
  waiting: Waiting = {},
): Promise<CalculationResult> {
  const answer = await answerAny(calculation, input, { clock: () => performance.now(), ...waiting })
  if (!answer.ok) return answer
  const { output, notices } = answer
  return { ok: true, result: notices.length === 0 ? output : { ...output, notices } }
}

/** The calculation of an id, or the issue that there is none. */
export function findCalculation(id: string): { calculation: AnyCalculation } | { issue: Issue } {
  const calculation = calculationById(id)
  if (calculation !== undefined) return { calculation }
  return {
    issue: {
      path: 'id',
      code: 'not-found',
      message: 'There is no calculation of this id.',
      value: id.slice(0, 80),
      allowed: calculations.map((known) => known.id).join(', '),
    },
  }
}
