import type { Said } from '@haspwright/server/client'
import { queryOptions, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { client } from './client.ts'

export const codeSpacesQuery = queryOptions({ queryKey: ['codes'], queryFn: () => client.listCodeSpaces() })

/** What has become of the codes of every design: counts and issue numbers, no code. */
export const useCodeSpaces = () => useQuery(codeSpacesQuery)

/** Something done to the codes of a design; the server writes down who is signed in, and why. */
export type CodeAct = Said &
  (
    | { readonly kind: 'withdraw'; readonly code: { blindCode: string } | { number: string } }
    | { readonly kind: 'reserve'; readonly from: string; readonly to: string }
    | { readonly kind: 'release'; readonly id: string }
    | {
        readonly kind: 'import'
        readonly text: string
        readonly lowestCut: 0 | 1
        readonly setAside: readonly number[]
      }
  )

/** Acts on the codes of a design. A list of earlier codes is sent and let go: never kept in a cache. */
export function useActOnCodes(design: string) {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (act: CodeAct) => perform(design, act),
    onSuccess: () => queries.invalidateQueries({ queryKey: codeSpacesQuery.queryKey }),
    gcTime: 0,
  })
}

function perform(design: string, { reason, ...act }: CodeAct) {
  const said: Said = { reason }
  switch (act.kind) {
    case 'withdraw':
      return client.withdrawCode(design, { ...act.code, ...said })
    case 'reserve':
      return client.reserveCodes(design, { from: act.from, to: act.to, ...said })
    case 'release':
      return client.releaseCodes(design, act.id, said)
    case 'import':
      return client.importCodes(design, {
        text: act.text,
        lowestCut: act.lowestCut,
        setAside: act.setAside,
        ...said,
      })
  }
}
