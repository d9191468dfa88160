import type { Planner } from './planner.ts'

/** What is posted between whoever asks and the hand that works. */
export type JobName = keyof Planner

export type ToHand =
  | { readonly kind: 'start'; readonly id: number; readonly job: JobName; readonly input: unknown }
  | { readonly kind: 'cancel'; readonly id: number }

export type FromHand =
  | { readonly kind: 'progress'; readonly id: number; readonly share: number; readonly doing: string }
  | { readonly kind: 'done'; readonly id: number; readonly result: unknown }
  | { readonly kind: 'fault'; readonly id: number; readonly error: unknown }
