import type { Composition, Design, Works } from '@haspwright/engine'
import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { askHeat } from './ask-heat.ts'
import type { LotShape } from './heat-inputs.ts'

const forever = { staleTime: Number.POSITIVE_INFINITY, placeholderData: keepPreviousData } as const

/** What the hardening station shows of a design; the last picture stays until the next is there. */
export function useHeatView(design: Design, own: Composition | undefined) {
  return useQuery({
    queryKey: ['heat', 'view', design, own ?? null],
    queryFn: ({ signal }) => askHeat({ kind: 'view', design, ...(own === undefined ? {} : { own }) }, signal),
    ...forever,
  })
}

/** A record as read and judged. Its text is not kept once the page is left. */
export function useRecord(record: { readonly number: number; readonly text: string } | undefined, recipe: unknown) {
  return useQuery({
    // The text stands outside of the key: it is long, and its number tells one from the next.
    queryKey: ['heat', 'record', record?.number ?? 0, recipe],
    queryFn: ({ signal }) => askHeat({ kind: 'record', text: record?.text ?? '', recipe }, signal),
    enabled: record !== undefined,
    gcTime: 0,
    ...forever,
  })
}

/** The furnace charges of an order. */
export function useLoads(lots: readonly LotShape[], designs: readonly Design[], works: Works) {
  return useQuery({
    queryKey: ['heat', 'loads', lots, designs, works],
    queryFn: ({ signal }) => askHeat({ kind: 'loads', lots, designs, works }, signal),
    ...forever,
  })
}
