import { queryOptions, useQuery } from '@tanstack/react-query'
import { client } from './client.ts'

/** What the server answers to. It changes with the program alone. */
export const apiDocumentQuery = queryOptions({
  queryKey: ['api-document'],
  queryFn: () => client.apiDocument(),
  staleTime: Number.POSITIVE_INFINITY,
})

export const useApiDocument = () => useQuery(apiDocumentQuery)
