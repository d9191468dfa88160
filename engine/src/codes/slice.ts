import { z } from 'zod'
import type { Issue } from '../issue.ts'
import { count } from '../quantity.ts'

/** The part of a code space that one of several sites draws from. */
export interface Slice {
  /** Which site, from 0. */
  readonly index: number
  /** How many sites there are. */
  readonly of: number
}

/** The whole space: one site alone. */
export const WHOLE_SPACE: Slice = { index: 0, of: 1 }

export const sliceField = z
  .strictObject({
    index: count('Site, from 0', { min: 0, max: 9999 }),
    of: count('Sites that draw from the space', { min: 1, max: 10_000 }),
  })
  .meta({
    title: 'Slice of a site',
    description: 'Several sites draw from one space and never meet: each counts its own numbers from 0',
  })

/**
 * The issue number behind the nth code of a site: index + n · of. Sites take turns through the issue numbers, so slices never
 * meet, together they are the whole space, and none is larger than another by more than one code. No site need know how far
 * the others are; the number of sites is settled once and for all.
 */
export function issueNumberIn({ index, of }: Slice, nth: bigint): bigint {
  return BigInt(index) + nth * BigInt(of)
}

/** Codes in a slice of a space of so many. */
export function sliceSize({ index, of }: Slice, usable: bigint): bigint {
  const behind = usable - BigInt(index)
  return behind <= 0n ? 0n : (behind + BigInt(of) - 1n) / BigInt(of)
}

/** What is wrong with a slice, as an issue on `path`. */
export function sliceIssue({ index, of }: Slice, path: string): Issue | undefined {
  if (index < of) return undefined
  return {
    path: `${path}.index`,
    code: 'contradiction',
    message: 'There are not so many sites: they are counted from 0.',
    value: index,
    allowed: `0 to ${of - 1}`,
  }
}
