import { createHash } from 'node:crypto'
import type { Design } from '@haspwright/engine'

/** What fixes the numbering of codes: the same for every revision of a design that leaves these alone. */
export type CodeSpace = Pick<Design['mechanism'], 'discs' | 'values' | 'rules'>

export function codeSpaceOf({ mechanism: { discs, values, rules } }: Design): CodeSpace {
  return { discs, values, rules }
}

/** The name of a code space: equal exactly when discs, values and rules are. */
export function codeSpaceId(space: CodeSpace): string {
  return digestOf(space).slice(0, 16)
}

/**
 * Fingerprint of what decides which locks an order asks for. An order that is written out again, with another due date or
 * customer reference, keeps its codes.
 */
export function linesFingerprint(
  lines: readonly { id: string; design: string; quantity: number; keying: unknown }[],
  spaces: Readonly<Record<string, string>>,
): string {
  return digestOf({
    lines: lines.map(({ id, design, quantity, keying }) => ({ id, design, quantity, keying })),
    spaces,
  })
}

function digestOf(value: unknown): string {
  return createHash('sha256').update(canonicalJson(value)).digest('hex')
}

/** JSON with the fields of every object in one order, so that equal values give equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    inner === null || typeof inner !== 'object' || Array.isArray(inner)
      ? inner
      : Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1))),
  )
}
