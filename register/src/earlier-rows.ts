import { z } from 'zod'

/** A code from before the tool, with what its list called it: what a sealed row says when it is opened. It holds cuts. */
export const EarlierCode = z.object({
  number: z.string(),
  lock: z.string().optional(),
  blindCode: z.string().optional(),
  cuts: z.array(z.int()),
})

export interface EarlierRow {
  /** Line of the list, counted from 1. */
  readonly line: number
  readonly number: string
  readonly lock?: string | undefined
  readonly blindCode?: string | undefined
  readonly cuts: readonly number[]
}
