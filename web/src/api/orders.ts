import type { Said } from '@haspwright/server/client'
import {
  infiniteQueryOptions,
  type QueryClient,
  queryOptions,
  useInfiniteQuery,
  useMutation,
  useQuery,
  useQueryClient,
} from '@tanstack/react-query'
import { useWatchedWork, useWorkBehind, watching } from '../work/watched.ts'
import { client } from './client.ts'

export const ordersQuery = infiniteQueryOptions({
  queryKey: ['orders'],
  queryFn: ({ pageParam }) => client.listOrders(pageParam),
  initialPageParam: undefined as string | undefined, // the first page comes after none
  getNextPageParam: ({ next }) => next,
  select: ({ pages }) => ({
    orders: pages.flatMap(({ orders }) => orders),
    issues: pages.flatMap(({ issues }) => issues),
  }),
})
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
    queryFn: ({ client: queries, queryKey }) => client.listPapers(orderId, watching(queries, queryKey)),
    staleTime: 60_000,
  })

/** The list of orders, the last numbers first, as many pages of it as were asked for. */
export const useOrders = () => useInfiniteQuery(ordersQuery)
export const useOrder = (id: string) => useQuery(orderQuery(id))
export const usePapers = (orderId: string) => useQuery(papersQuery(orderId))
/** The work of making the papers of an order, while they are made. */
export const usePrinting = (orderId: string) => useWorkBehind(papersQuery(orderId).queryKey)

/** Hands in an order; the server checks, stores and plans it. */
export function useSubmitOrder() {
  const queries = useQueryClient()
  const work = useWatchedWork()
  const submission = useMutation({
    mutationFn: ({ order, newCodes }: { order: unknown; newCodes?: Said }) =>
      client.submitOrder(order, newCodes, work.begin()),
    onSuccess: (planned) => keep(queries, planned),
    onSettled: work.end,
  })
  return { ...submission, work }
}

/** Plans a stored order again with the designs and the works as they stand now. */
export function usePlanAgain(id: string) {
  const queries = useQueryClient()
  const work = useWatchedWork()
  const planning = useMutation({
    mutationFn: (newCodes: Said | undefined) => client.planOrder(id, newCodes, work.begin()),
    onSuccess: (planned) => keep(queries, planned),
    onSettled: work.end,
  })
  return { ...planning, work }
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
