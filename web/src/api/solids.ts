import { type QueryClient, queryOptions, useQuery } from '@tanstack/react-query'
import { useWorkBehind, watching } from '../work/watched.ts'
import { client } from './client.ts'
import { designQuery } from './designs.ts'

export const FILE_KINDS = ['step', '3mf', 'dxf', 'svg'] as const
export type SolidFileKind = (typeof FILE_KINDS)[number]

/** A version of a design never changes, and so neither does its geometry. */
const settled = { staleTime: Number.POSITIVE_INFINITY } as const

const meshQuery = (id: string, version: number) =>
  queryOptions({
    queryKey: ['solids', id, version, 'mesh'],
    queryFn: ({ client: queries, queryKey }) => client.getLockMesh(id, watching(queries, queryKey)),
    ...settled,
  })
const reportQuery = (id: string, version: number) =>
  queryOptions({ queryKey: ['solids', id, version, 'report'], queryFn: () => client.getSolidReport(id), ...settled })
const filesQuery = (id: string, version: number, kind: SolidFileKind) =>
  queryOptions({
    queryKey: ['solids', id, version, kind],
    queryFn: ({ client: queries, queryKey }) => client.listSolidFiles(id, kind, watching(queries, queryKey)),
    ...settled,
  })

/** Fetches the mesh of a design's stored version ahead, while the program of the page is on its way. What goes wrong is the page's to say. */
export async function fetchLockAhead(queries: QueryClient, id: string): Promise<void> {
  const stored = await queries.fetchQuery(designQuery(id)).catch(() => undefined)
  if (stored !== undefined) await queries.prefetchQuery(meshQuery(id, stored.version))
}

/** The lock as triangles, in every state. */
export const useLockMesh = (id: string, version: number) => useQuery(meshQuery(id, version))
/** The work of building a file's solids, or those of the picture, while the server is at it. */
export const useBuilding = (id: string, version: number, kind: SolidFileKind | 'mesh') =>
  useWorkBehind(['solids', id, version, kind])
/** Volumes, masses, areas, walls and interference; asked for after the mesh, since both want the same thread of the server. */
export const useSolidReport = (id: string, version: number, wanted: boolean) =>
  useQuery({ ...reportQuery(id, version), enabled: wanted })
/** Files of one kind for other programs; made on the server when first wanted. */
export const useSolidFiles = (id: string, version: number, kind: SolidFileKind, wanted: boolean) =>
  useQuery({ ...filesQuery(id, version, kind), enabled: wanted })
