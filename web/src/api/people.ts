import { type Me, type Permission, ServerRefusal } from '@haspwright/server/client'
import { queryOptions, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type Leave, leaveFor } from '../people/why-not.ts'
import { client } from './client.ts'

export const meQuery = queryOptions({ queryKey: ['me'], queryFn: () => client.me(), staleTime: 30_000 })

/** Who is signed in here. */
export const useMe = () => useQuery(meQuery)

/** Somebody is signed in: the frame shows no page before. */
export function usePerson(): Extract<Me, { signedIn: true }> | undefined {
  const { data } = useMe()
  return data?.signedIn === true ? data : undefined
}

/** How the person who is signed in stands to an act. What they may not do is not offered; in its place stands why. */
export const useLeave = (permission: Permission): Leave => leaveFor(usePerson(), permission)

export const useMay = (permission: Permission): boolean => useLeave(permission).kind === 'given'

export const usePeople = () => useQuery({ queryKey: ['people'], queryFn: () => client.listPeople() })
export const useTokens = () => useQuery({ queryKey: ['tokens'], queryFn: () => client.listTokens() })
export const useSessions = () => useQuery({ queryKey: ['account', 'sessions'], queryFn: () => client.listSessions() })
export const usePasskeys = () => useQuery({ queryKey: ['account', 'passkeys'], queryFn: () => client.listPasskeys() })
export const useReplacements = (asked: boolean) =>
  useQuery({ queryKey: ['custody', 'replacements'], queryFn: () => client.listReplacements(), enabled: asked })
export const useRenewals = (asked: boolean) =>
  useQuery({ queryKey: ['renewals'], queryFn: () => client.listRenewals(), enabled: asked })
export const useLotsInHand = (asked: boolean) =>
  useQuery({ queryKey: ['custody', 'lots'], queryFn: () => client.listLotsInHand(), enabled: asked })
export const useBuilders = (asked: boolean) =>
  useQuery({ queryKey: ['custody', 'builders'], queryFn: () => client.listBuilders(), enabled: asked })
export const useCodeLog = (asked: boolean) =>
  useQuery({ queryKey: ['custody', 'log'], queryFn: () => client.codeLog(), enabled: asked })

/** Does something about people and then asks anew for what it changed. Passwords and codes are sent and let go. */
export function useAct<Given, Done>(act: (given: Given) => Promise<Done>, changes: readonly string[]) {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: act,
    onSuccess: async () => {
      for (const changed of changes) await queries.invalidateQueries({ queryKey: [changed] })
    },
    gcTime: 0,
  })
}

/** Somebody else sits here from now on: nothing that was shown to the one before stays. */
export function useSignedInAnew(): () => Promise<void> {
  const queries = useQueryClient()
  return async () => {
    queries.removeQueries({ predicate: ({ queryKey }) => queryKey[0] !== 'me' })
    await queries.resetQueries({ queryKey: ['me'] })
  }
}

export const isSignInWanted = (error: unknown): boolean =>
  error instanceof ServerRefusal && error.kind === 'not-signed-in' && error.issues[0]?.path === ''
