import { type Design, differsInput } from '@haspwright/engine'
import type { CalculationAnswer } from '../evidence/calculation-messages.ts'

/** What `mechanism.differs` is asked for a design. */
export interface DiffersQuestion {
  readonly id: 'mechanism.differs'
  readonly input: Readonly<Record<string, unknown>>
}

/** The count alone comes many times sooner than what would win codes: a page that follows every change asks for both. */
export function differsQuestion(design: Design, { withRemedies }: { withRemedies: boolean }): DiffersQuestion {
  return { id: 'mechanism.differs', input: { ...differsInput(design), withRemedies } }
}

/** One change that alone makes a separation rule unnecessary. */
export interface Remedy {
  readonly title: string
  readonly field:
    | 'sigmaDeg'
    | 'gateSigmaDeg'
    | 'keyCutSigmaDeg'
    | 'lostMotionSigmaDeg'
    | 'halfWindowDeg'
    | 'halfWindowToleranceDeg'
    | 'rockDeg'
    | 'stepDeg'
    | 'values'
  readonly from: number
  readonly to: number
  /** Whole numbers as text. */
  readonly separated: string
  readonly won: string
  readonly ownKey: number
}

/** What `mechanism.differs` answers; whole numbers as text. */
export interface Differs {
  readonly total: string
  readonly usable: string
  readonly separated: string
  readonly rule: {
    readonly needed: 'none' | 'congruence' | 'none found'
    readonly congruence?: { readonly modulus: number; readonly remainder: number; readonly weights?: readonly number[] }
  }
  readonly ownKey: number
  readonly worstInterchange: number
  readonly worstDifferences: readonly number[]
  readonly remedies: readonly Remedy[]
}

/** The answer typed: calculations of the list have lost their types, their own tests hold the output to its schema. */
export function differsOf(answer: CalculationAnswer | undefined): Differs | undefined {
  return answer?.ok === true ? (answer.output as unknown as Differs) : undefined
}

/** The key that most easily opens a lock that is not its own; while that is not known, one step off at one disc. */
export function nearestKey(differs: Differs | undefined, discs: number): readonly number[] {
  const found = differs?.worstDifferences ?? []
  return found.length === discs ? found : Array.from({ length: discs }, (_, disc) => (disc === 0 ? 1 : 0))
}

/** `1 disc 1 step off`, `4 discs 1 step off`, `3 discs 1 or 2 steps off`. */
export function offWords(differences: readonly number[]): string {
  const off = differences.filter((steps) => steps !== 0).map(Math.abs)
  if (off.length === 0) return 'the own key'
  const steps = [...new Set(off)].sort((a, b) => a - b)
  const size = steps.length > 2 ? `${steps[0]} to ${steps.at(-1)}` : steps.join(' or ')
  return `${off.length} ${off.length === 1 ? 'disc' : 'discs'} ${size} ${steps.at(-1) === 1 ? 'step' : 'steps'} off`
}
