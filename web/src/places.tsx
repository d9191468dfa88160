import { type FetchQueryOptions, MutationCache, QueryCache, QueryClient, type QueryKey } from '@tanstack/react-query'
import { createRootRoute, createRoute, createRouter, lazyRouteComponent, redirect } from '@tanstack/react-router'
import { codeSpacesQuery } from './api/codes.ts'
import { designQuery, designsQuery } from './api/designs.ts'
import { orderQuery, ordersQuery } from './api/orders.ts'
import { isSignInWanted } from './api/people.ts'
import { apiDocumentQuery } from './api/reference.ts'
import { fetchLockAhead } from './api/solids.ts'
import { BATH_KINDS, type BathKindName } from './finish/bath-kinds.ts'
import { FaultPage } from './frame/FaultPage.tsx'
import { NotFound } from './frame/NotFound.tsx'
import { Shell } from './frame/Shell.tsx'
import { Waiting } from './frame/Waiting.tsx'
import { readOrderSearch } from './orders/order-search.ts'
import { ownPlace } from './people/own-place.ts'
import { readReferenceSearch } from './reference/reference-address.ts'

/** What the pages remember of the server's answers. */
export const queries: QueryClient = new QueryClient({
  queryCache: new QueryCache({ onError: askWhoIsThere }),
  mutationCache: new MutationCache({ onError: askWhoIsThere }),
  defaultOptions: { queries: { staleTime: 15_000, retry: false, refetchOnWindowFocus: true } },
})

/** Asks the server while the page's own code is still on its way. A question that fails is told by the page that asks it again. */
function ask<T, K extends QueryKey>(query: FetchQueryOptions<T, Error, T, K>): void {
  void queries.prefetchQuery(query)
}

/** A session that has ended elsewhere shows the way to sign in again. */
function askWhoIsThere(error: unknown): void {
  if (isSignInWanted(error)) void queries.invalidateQueries({ queryKey: ['me'] })
}

const root = createRootRoute({ component: Shell })

const home = createRoute({
  getParentRoute: () => root,
  path: '/',
  beforeLoad: () => {
    throw redirect({ to: '/orders', replace: true })
  },
})
const orders = createRoute({
  getParentRoute: () => root,
  path: '/orders',
  loader: () => void queries.prefetchInfiniteQuery(ordersQuery),
  component: lazyRouteComponent(() => import('./orders/OrdersPage.tsx'), 'OrdersPage'),
})
const order = createRoute({
  getParentRoute: () => root,
  path: '/orders/$orderId',
  validateSearch: readOrderSearch,
  loader: ({ params }) => ask(orderQuery(params.orderId)),
  component: lazyRouteComponent(() => import('./orders/OrderPage.tsx'), 'OrderPage'),
})
const orderPlating = createRoute({
  getParentRoute: () => root,
  path: '/orders/$orderId/plating',
  validateSearch: (search: Record<string, unknown>): { readonly design?: string } =>
    typeof search['design'] === 'string' ? { design: search['design'] } : {},
  loader: ({ params }) => ask(orderQuery(params.orderId)),
  component: lazyRouteComponent(() => import('./finish/PlatingPage.tsx'), 'PlatingPage'),
})
const bathLog = createRoute({
  getParentRoute: () => root,
  path: '/bath-log',
  validateSearch: (search: Record<string, unknown>): { readonly bath?: BathKindName } => {
    const bath = BATH_KINDS.find((each) => each === search['bath'])
    return bath === undefined ? {} : { bath }
  },
  component: lazyRouteComponent(() => import('./finish/BathLogPage.tsx'), 'BathLogPage'),
})
const designs = createRoute({
  getParentRoute: () => root,
  path: '/designs',
  loader: () => ask(designsQuery),
  component: lazyRouteComponent(() => import('./designs/DesignsPage.tsx'), 'DesignsPage'),
})
const design = createRoute({
  getParentRoute: () => root,
  path: '/designs/$designId',
  loader: ({ params }) => ask(designQuery(params.designId)),
  component: lazyRouteComponent(() => import('./designs/DesignPage.tsx'), 'DesignPage'),
})
const designMechanism = createRoute({
  getParentRoute: () => root,
  path: '/designs/$designId/mechanism',
  loader: ({ params }) => ask(designQuery(params.designId)),
  component: lazyRouteComponent(() => import('./mechanism/MechanismPage.tsx'), 'MechanismPage'),
})
const designSolid = createRoute({
  getParentRoute: () => root,
  path: '/designs/$designId/solid',
  // The page, what draws in three dimensions and the lock itself are fetched side by side.
  loader: ({ params: { designId } }) => {
    void fetchLockAhead(queries, designId)
    void import('./solid/SolidView.tsx')
  },
  component: lazyRouteComponent(() => import('./solid/SolidPage.tsx'), 'SolidPage'),
})
const codes = createRoute({
  getParentRoute: () => root,
  path: '/codes',
  loader: () => ask(codeSpacesQuery),
  component: lazyRouteComponent(() => import('./codes/CodesPage.tsx'), 'CodesPage'),
})
const charts = createRoute({
  getParentRoute: () => root,
  path: '/codes/charts',
  component: lazyRouteComponent(() => import('./codes/ChartsPage.tsx'), 'ChartsPage'),
})
const custody = createRoute({
  getParentRoute: () => root,
  path: '/codes/custody',
  component: lazyRouteComponent(() => import('./codes/CustodyPage.tsx'), 'CustodyPage'),
})
const signIn = createRoute({
  getParentRoute: () => root,
  path: '/sign-in',
  validateSearch: (search: Record<string, unknown>): { readonly to?: string } => {
    const to = ownPlace(search['to'])
    return to === undefined ? {} : { to }
  },
  component: lazyRouteComponent(() => import('./people/SignInPage.tsx'), 'SignInPage'),
})
const invitation = createRoute({
  getParentRoute: () => root,
  path: '/invitation',
  component: lazyRouteComponent(() => import('./people/InvitationPage.tsx'), 'InvitationPage'),
})
const account = createRoute({
  getParentRoute: () => root,
  path: '/account',
  component: lazyRouteComponent(() => import('./people/AccountPage.tsx'), 'AccountPage'),
})
const people = createRoute({
  getParentRoute: () => root,
  path: '/people',
  component: lazyRouteComponent(() => import('./people/PeoplePage.tsx'), 'PeoplePage'),
})
const tokens = createRoute({
  getParentRoute: () => root,
  path: '/tokens',
  component: lazyRouteComponent(() => import('./people/TokensPage.tsx'), 'TokensPage'),
})
const roles = createRoute({
  getParentRoute: () => root,
  path: '/roles',
  component: lazyRouteComponent(() => import('./people/RolesPage.tsx'), 'RolesPage'),
})
const evidence = createRoute({
  getParentRoute: () => root,
  path: '/evidence',
  component: lazyRouteComponent(() => import('./evidence/CalculationsPage.tsx'), 'CalculationsPage'),
})
const sources = createRoute({
  getParentRoute: () => root,
  path: '/evidence/sources',
  component: lazyRouteComponent(() => import('./evidence/SourcesPage.tsx'), 'SourcesPage'),
})
const calculation = createRoute({
  getParentRoute: () => root,
  path: '/evidence/calculations/$calculationId',
  component: lazyRouteComponent(() => import('./evidence/CalculationPage.tsx'), 'CalculationPage'),
})
const referenceParts = {
  validateSearch: readReferenceSearch,
  loader: () => ask(apiDocumentQuery),
  component: lazyRouteComponent(() => import('./reference/ReferencePage.tsx'), 'ReferencePage'),
}
const reference = createRoute({ getParentRoute: () => root, path: '/api-reference', ...referenceParts })
const referenceRoute = createRoute({
  getParentRoute: () => root,
  path: '/api-reference/$routeName',
  ...referenceParts,
})

/** Every address of the pages. */
export const router = createRouter({
  routeTree: root.addChildren([
    home,
    orders,
    order,
    orderPlating,
    bathLog,
    designs,
    design,
    designMechanism,
    designSolid,
    codes,
    charts,
    custody,
    signIn,
    invitation,
    account,
    people,
    tokens,
    roles,
    evidence,
    sources,
    calculation,
    reference,
    referenceRoute,
  ]),
  defaultNotFoundComponent: () => <NotFound />,
  defaultErrorComponent: ({ error, reset }) => <FaultPage error={error} retry={reset} />,
  defaultPendingComponent: () => <Waiting what="the page" />,
  scrollRestoration: true,
})

declare module '@tanstack/react-router' {
  interface Register {
    router: typeof router
  }
}
