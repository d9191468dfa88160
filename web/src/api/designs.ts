import { queryOptions, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { client } from './client.ts'

export const designsQuery = queryOptions({ queryKey: ['designs'], queryFn: () => client.listDesigns() })
/** A design as it is stored. */
export const designQuery = (id: string) =>
  queryOptions({ queryKey: ['designs', id], queryFn: () => client.getDesign(id) })

export const useDesigns = () => useQuery(designsQuery)
export const useDesign = (id: string) => useQuery(designQuery(id))

/** Stores a design as the version after the one it was read at; refused where somebody was faster. */
export function useSaveDesign() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: ({ id, content, version }: { id: string; content: unknown; version: number }) =>
      client.saveDesign(id, content, version),
    onSuccess: (stored) => {
      queries.setQueryData(designQuery(stored.content.id).queryKey, stored)
      void queries.invalidateQueries({ queryKey: designsQuery.queryKey, exact: true })
      void queries.invalidateQueries({ queryKey: ['orders'] })
    },
  })
}
