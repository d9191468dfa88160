import type { StoredDesign } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { Fragment, type ReactNode } from 'react'
import { useDesign } from '../api/designs.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'

/** The frame of a page about one side of a design: fetched, or why not; the way back; which design and which version of it. */
export function DesignSubpage({
  designId,
  title,
  className,
  children,
}: {
  designId: string
  /** `Solid`: the side that is shown. */
  title: string
  className: string
  children: (stored: StoredDesign) => ReactNode
}) {
  const design = useDesign(designId)
  usePageTitle(`${title} of ${designId}`)
  if (design.isPending) return <Waiting what="the design" />
  if (design.isError) return <FaultPage error={design.error} what="design" retry={() => void design.refetch()} />
  const { content, version } = design.data
  return (
    <div className={`page ${className}`}>
      <p className="small quiet screen-only">
        <Link to="/designs" className="tap">
          Designs
        </Link>{' '}
        /{' '}
        <Link to="/designs/$designId" params={{ designId: content.id }} className="tap">
          {content.id}
        </Link>{' '}
        / {title.toLowerCase()}
      </p>
      <h1 className="title-line">
        {title} of {content.title}
        <small>
          design {content.id} · revision {content.revision} · stored version {version}
        </small>
      </h1>
      <Fragment key={version}>{children(design.data)}</Fragment>
    </div>
  )
}
