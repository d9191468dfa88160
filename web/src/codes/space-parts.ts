import type { CodeSpaceSummary } from '@haspwright/server/client'

export interface SpacePart {
  readonly kind: 'given' | 'withdrawn' | 'imported' | 'passed-over' | 'reserved' | 'left' | 'ruled'
  readonly title: string
  /** A whole number as text. */
  readonly count: string
}

/** All codes of a design, each in one part: what became of it, or that it is left, or that a rule keeps it out. */
export function spaceParts(space: CodeSpaceSummary, usable: string): SpacePart[] {
  const used: SpacePart[] = [
    { kind: 'given', title: 'given out', count: space.givenOut },
    { kind: 'withdrawn', title: 'withdrawn', count: space.withdrawn },
    { kind: 'imported', title: 'from before the tool', count: space.imported },
    { kind: 'passed-over', title: 'passed over', count: space.passedOver },
    { kind: 'reserved', title: 'reserved', count: space.reserved },
  ]
  return [
    ...used,
    { kind: 'left', title: 'left', count: codesLeft(space, usable) },
    { kind: 'ruled', title: 'kept out by the rules', count: `${BigInt(space.total) - BigInt(usable)}` },
  ]
}

/** Codes that can still be given to an order. */
export function codesLeft(
  {
    givenOut,
    withdrawn,
    imported,
    passedOver,
    reserved,
  }: Pick<CodeSpaceSummary, 'givenOut' | 'withdrawn' | 'imported' | 'passedOver' | 'reserved'>,
  usable: string,
): string {
  const used = [givenOut, withdrawn, imported, passedOver, reserved]
  return `${used.reduce((left, count) => left - BigInt(count), BigInt(usable))}`
}
