import type { Said } from '@haspwright/server/client'
import { type QueryClient, queryOptions, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { client } from './client.ts'

export const ordersQuery = queryOptions({ queryKey: ['orders'], queryFn: () => client.listOrders() })
export const orderQuery = (id: string) =>
  queryOptions({
    queryKey: ['orders', id],
    queryFn: () => client.getOrder(id),
    // A plan in the making is asked for again until it stands.
    refetchInterval: ({ state }) => (state.data?.planState === 'planning' ? 700 : false),
  })
const papersQuery = (orderId: string) =>
  queryOptions({
    queryKey: ['orders', orderId, 'papers'],
    queryFn: () => client.listPapers(orderId),
    staleTime: 60_000,
  })

export const useOrders = () => useQuery(ordersQuery)
export const useOrder = (id: string) => useQuery(orderQuery(id))
export const usePapers = (orderId: string) => useQuery(papersQuery(orderId))

/** Hands in an order; the server checks, stores and plans it. */
export function useSubmitOrder() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: ({ order, newCodes }: { order: unknown; newCodes?: Said }) => client.submitOrder(order, newCodes),
    onSuccess: (planned) => keep(queries, planned),
  })
}

/** Plans a stored order again with the designs and the works as they stand now. */
export function usePlanAgain(id: string) {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (newCodes: Said | undefined) => client.planOrder(id, newCodes),
    onSuccess: (planned) => keep(queries, planned),
  })
}

/** Opens one paper that holds cuts of keys. It is shown and let go: never kept in a cache. */
export function useOpenCodePaper(orderId: string) {
  return useMutation({
    mutationFn: (asked: { path: string; reason: string }) => client.openCodePaper(orderId, asked),
    gcTime: 0,
  })
}

function keep(queries: QueryClient, planned: Awaited<ReturnType<typeof client.getOrder>>): void {
  queries.setQueryData(orderQuery(planned.order.id).queryKey, planned)
  void queries.invalidateQueries({ queryKey: ordersQuery.queryKey, exact: true })
  void queries.invalidateQueries({ queryKey: papersQuery(planned.order.id).queryKey })
}
