import type { Design } from '@haspwright/engine'
import type { JobListing, LockMesh, StoredDesign } from '@haspwright/server/client'
import type { UseQueryResult } from '@tanstack/react-query'
import { getRouteApi } from '@tanstack/react-router'
import { lazy, Suspense } from 'react'
import { useBuilding, useLockMesh, useSolidReport } from '../api/solids.ts'
import { DesignDrawings } from '../designs/DesignDrawings.tsx'
import { DesignSubpage } from '../designs/DesignSubpage.tsx'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { WorkLine } from '../work/WorkLine.tsx'
import { LockAhead } from './LockAhead.tsx'
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
  return (
    <DesignSubpage designId={designId} title="Solid" className="solid-page">
      {(stored) => <SolidSheet stored={stored} />}
    </DesignSubpage>
  )
}

function SolidSheet({ stored: { content, version } }: { stored: StoredDesign }) {
  const mesh = useLockMesh(content.id, version)
  const building = useBuilding(content.id, version, 'mesh')
  const report = useSolidReport(content.id, version, !mesh.isPending)
  const facts = mesh.data === undefined || report.data === undefined ? '' : factsInWords(report.data, mesh.data)
  return (
    <>
      <section className="solid-sheet" aria-labelledby="solid-lock">
        <div className="section-head">
          <h2 id="solid-lock">The lock, locked to open</h2>
          <small>finished sizes; the discs take all values in turn: the stack of no lock</small>
        </div>
        <Picture mesh={mesh} building={building} facts={facts} design={content} />
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
    </>
  )
}

interface PictureProps {
  readonly mesh: UseQueryResult<LockMesh>
  readonly building: JobListing | undefined
  readonly facts: string
  readonly design: Design
}

function Picture({ mesh, building, facts, design }: PictureProps) {
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
        <DesignDrawings design={design} />
      </div>
    )
  if (mesh.data === undefined)
    return (
      <LockAhead design={design}>
        <WorkLine job={building} what="Building the solid, which is kept afterwards" />
      </LockAhead>
    )
  return (
    <Suspense
      fallback={
        <LockAhead design={design}>
          <p role="status">Fetching what draws it …</p>
        </LockAhead>
      }
    >
      <SolidView mesh={mesh.data} facts={facts} fallback={<DesignDrawings design={design} />} />
    </Suspense>
  )
}
