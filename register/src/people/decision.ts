import type { Issue } from '@haspwright/engine'

/** What a second person said to a request, once and for all. */
export interface Decision {
  readonly kind: 'approved' | 'refused'
  readonly by: string
  readonly at: string
  readonly reason: string
}

/** The decision in a row of requests, as a part of what it becomes; nothing while it waits. */
export function decisionIn(row: {
  decision: Decision['kind'] | null
  decided_at: Date | null
  decided_because: string | null
  decider_name: string | null
}): { readonly decision?: Decision } {
  const { decision: kind, decided_at: at, decided_because: reason, decider_name: by } = row
  if (kind === null || at === null) return {}
  return { decision: { kind, by: by ?? '', at: at.toISOString(), reason: reason ?? '' } }
}

export const DECIDED_ALREADY: Issue = {
  path: 'request',
  code: 'contradiction',
  message: 'This request was decided already.',
}
