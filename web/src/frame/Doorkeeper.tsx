import { Navigate, useRouterState } from '@tanstack/react-router'
import type { ReactNode } from 'react'
import { useMe } from '../api/people.ts'
import { FaultPage } from './FaultPage.tsx'
import { Waiting } from './Waiting.tsx'

/** Pages for whoever is not signed in: the way in, and what the server tells any program about itself. */
const OPEN = /^\/(sign-in|invitation|api-reference)(\/|$)/

/** Shows a page once somebody is signed in; before that, the way to sign in, which leads back here. */
export function Doorkeeper({ children }: { children: ReactNode }) {
  const me = useMe()
  const { pathname, href } = useRouterState({ select: ({ location }) => location })
  if (OPEN.test(pathname)) return children
  if (me.isPending) return <Waiting what="the page" />
  if (me.isError) return <FaultPage error={me.error} retry={() => void me.refetch()} />
  if (!me.data.signedIn) return <Navigate to="/sign-in" search={href === '/' ? {} : { to: href }} replace />
  // The administrator alone has no orders to look at: people are their place.
  const { may, mayWithSecondFactor } = me.data
  if (
    pathname === '/orders' &&
    !may.includes('orders.read') &&
    [...may, ...mayWithSecondFactor].includes('people.manage')
  )
    return <Navigate to="/people" replace />
  return children
}
