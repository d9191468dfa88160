import { queryOptions, useQuery } from '@tanstack/react-query'
import { client } from './client.ts'

const worksQuery = queryOptions({ queryKey: ['works'], queryFn: () => client.getWorks() })

export const useWorks = () => useQuery(worksQuery)
