import { queryOptions, useQuery } from '@tanstack/react-query'
import { client } from './client.ts'

const codeSpacesQuery = queryOptions({ queryKey: ['codes'], queryFn: () => client.listCodeSpaces() })

/** How far the codes of every design have been given out: counts alone. */
export const useCodeSpaces = () => useQuery(codeSpacesQuery)
