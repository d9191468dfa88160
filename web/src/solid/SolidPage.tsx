import type { LockMesh, StoredDesign } from '@haspwright/server/client'
import type { UseQueryResult } from '@tanstack/react-query'
import { getRouteApi, Link } from '@tanstack/react-router'
import { lazy, type ReactNode, Suspense } from 'react'
import { useDesign } from '../api/designs.ts'
import { useLockMesh, useSolidReport } from '../api/solids.ts'
import { DesignDrawings } from '../designs/DesignDrawings.tsx'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { SolidDownloads } from './SolidDownloads.tsx'
import { SolidFacts } from './SolidFacts.tsx'
import { factsInWords } from './solid-facts.ts'
import '../orders/order-page.css'
import '../orders/operation-sheet.css'
import '../designs/designs.css'
import './solid.css'

const route = getRouteApi('/designs/$designId/solid')

// What draws in three dimensions is large: it comes only to this page.
const SolidView = lazy(() => import('./SolidView.tsx').then(({ SolidView: view }) => ({ default: view })))

/** The lock as a solid: turned, cut and opened on the page, what it weighs, and its files for other programs. */
export function SolidPage() {
  const { designId } = route.useParams()
  const design = useDesign(designId)
  usePageTitle(`Solid of ${designId}`)
  if (design.isPending) return <Waiting what="the design" />
  if (design.isError) return <FaultPage error={design.error} what="design" retry={() => void design.refetch()} />
  return <SolidSheet key={design.data.version} stored={design.data} />
}

function SolidSheet({ stored: { content, version } }: { stored: StoredDesign }) {
  const mesh = useLockMesh(content.id, version)
  const report = useSolidReport(content.id, version, !mesh.isPending)
  const facts = mesh.data === undefined || report.data === undefined ? '' : factsInWords(report.data, mesh.data)
  return (
    <div className="page solid-page">
      <p className="small quiet screen-only">
        <Link to="/designs" className="tap">
          Designs
        </Link>{' '}
        /{' '}
        <Link to="/designs/$designId" params={{ designId: content.id }} className="tap">
          {content.id}
        </Link>{' '}
        / solid
      </p>
      <h1 className="title-line">
        Solid of {content.title}
        <small>
          design {content.id} · revision {content.revision} · stored version {version}
        </small>
      </h1>
      <section className="solid-sheet" aria-labelledby="solid-lock">
        <div className="section-head">
          <h2 id="solid-lock">The lock, locked to open</h2>
          <small>finished sizes; the discs take all values in turn: the stack of no lock</small>
        </div>
        <Picture mesh={mesh} facts={facts} fallback={<DesignDrawings design={content} />} />
      </section>
      <section className="solid-measures" aria-labelledby="solid-measures">
        <div className="section-head">
          <h2 id="solid-measures">What the solid says</h2>
        </div>
        {report.isError ? (
          <p role="alert">
            The measures could not be made: {report.error.message}{' '}
            <button type="button" className="text-button" onClick={() => void report.refetch()}>
              Try again
            </button>
          </p>
        ) : report.data === undefined || mesh.data === undefined ? (
          <p role="status" className="quiet">
            Measuring volumes, walls and room between the parts; the first time this takes up to half a minute …
          </p>
        ) : (
          <SolidFacts report={report.data} mesh={mesh.data} />
        )}
      </section>
      <SolidDownloads designId={content.id} version={version} />
      <TitleBlock
        cells={[
          ['sheet', 'solid'],
          ['design', `${content.id} rev ${content.revision}`],
          ['projection', 'first angle'],
          ['scale', 'to fit'],
        ]}
      />
    </div>
  )
}

function Picture({ mesh, facts, fallback }: { mesh: UseQueryResult<LockMesh>; facts: string; fallback: ReactNode }) {
  if (mesh.isError)
    return (
      <div role="alert">
        <p>
          The solid could not be built: {mesh.error.message} The drawings below show the same design; if a size of it
          leaves no material, they show where.{' '}
          <button type="button" className="text-button" onClick={() => void mesh.refetch()}>
            Try again
          </button>
        </p>
        {fallback}
      </div>
    )
  if (mesh.data === undefined)
    return (
      <p role="status" className="solid-wait">
        Building the solid; the first time this takes up to half a minute, afterwards it is kept …
      </p>
    )
  return (
    <Suspense fallback={<p className="solid-wait">Fetching what draws it …</p>}>
      <SolidView mesh={mesh.data} facts={facts} fallback={fallback} />
    </Suspense>
  )
}
