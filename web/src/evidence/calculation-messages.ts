import type { Issue, WorkingStep } from '@haspwright/engine'

/** What page and worker say to each other about one calculation. */
export interface CalculationQuestion {
  readonly number: number
  readonly id: string
  readonly input: unknown
}

export type CalculationMessage =
  | { readonly number: number; readonly kind: 'progress'; readonly share: number; readonly doing: string }
  | { readonly number: number; readonly kind: 'answer'; readonly answer: CalculationAnswer }
  | { readonly number: number; readonly kind: 'fault'; readonly message: string }

export type CalculationAnswer =
  | {
      readonly ok: true
      readonly output: Readonly<Record<string, unknown>>
      readonly notices: readonly string[]
      readonly working: readonly WorkingStep[] | string
    }
  | { readonly ok: false; readonly issues: readonly Issue[] }
