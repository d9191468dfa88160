import type { ApiDocument } from '@haspwright/server/client'
import { useNavigate, useParams, useSearch } from '@tanstack/react-router'
import { useMemo } from 'react'
import { useApiDocument } from '../api/reference.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { Waiting } from '../frame/Waiting.tsx'
import { FirstPage } from './FirstPage.tsx'
import { NoSuchRoute } from './NoSuchRoute.tsx'
import { RouteIndex } from './RouteIndex.tsx'
import { RouteSheet } from './RouteSheet.tsx'
import { matching, routesBySubject } from './routes-by-subject.ts'
import '../fields/fields.css'
import './reference.css'

/** What programs may ask of this server: the index of routes, and the sheet of the one that is open. */
export function ReferencePage() {
  const document = useApiDocument()
  if (document.isPending) return <Waiting what="the API reference" />
  if (document.isError) return <FaultPage error={document.error} retry={() => void document.refetch()} />
  return <Reference document={document.data} />
}

function Reference({ document }: { document: ApiDocument }) {
  const { routeName } = useParams({ strict: false })
  const { find = '' } = useSearch({ strict: false })
  const navigate = useNavigate()
  const subjects = useMemo(() => routesBySubject(document), [document])
  const found = useMemo(() => matching(subjects, find), [subjects, find])
  const route = subjects.flatMap(({ routes }) => routes).find(({ name }) => name === routeName)
  const search = find === '' ? {} : { find }
  const refind = (words: string) =>
    void navigate({
      to: '.',
      search: words === '' ? {} : { find: words },
      replace: true,
      resetScroll: false,
    })
  const openFirst = () => {
    const first = found[0]?.routes[0]
    if (first !== undefined)
      void navigate({ to: '/api-reference/$routeName', params: { routeName: first.name }, search })
  }
  return (
    <div className={routeName === undefined ? 'page reference' : 'page reference has-route'}>
      <RouteIndex subjects={found} openRoute={routeName} find={find} onFind={refind} onEnter={openFirst} />
      <div className="reference-sheet">
        {routeName === undefined ? (
          <FirstPage document={document} subjects={subjects} />
        ) : route === undefined ? (
          <NoSuchRoute name={routeName} />
        ) : (
          <RouteSheet key={route.name} document={document} route={route} />
        )}
      </div>
    </div>
  )
}
