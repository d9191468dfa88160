import type { SolidListing } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { useOrders } from '../api/orders.ts'
import { FILE_KINDS, type SolidFileKind, useBuilding, useSolidFiles } from '../api/solids.ts'
import { WorkLine } from '../work/WorkLine.tsx'
import { FILE_WORDS, sizeWords } from './file-words.ts'

/** Files of the design for other programs, made when first asked for, and where its machine programs are. */
export function SolidDownloads({ designId, version }: { designId: string; version: number }) {
  return (
    <section className="solid-downloads screen-only" aria-labelledby="solid-files">
      <div className="section-head">
        <h2 id="solid-files">Drawings and solids to download</h2>
        <small>the stored version, at nominal sizes</small>
      </div>
      {FILE_KINDS.map((kind) => (
        <FilesOfKind key={kind} kind={kind} designId={designId} version={version} />
      ))}
      <MachinePrograms designId={designId} />
    </section>
  )
}

function FilesOfKind({ kind, designId, version }: { kind: SolidFileKind; designId: string; version: number }) {
  const [open, setOpen] = useState(false)
  const files = useSolidFiles(designId, version, kind, open)
  const building = useBuilding(designId, version, kind)
  const { title, purpose } = FILE_WORDS[kind]
  return (
    <details className="solid-kind" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary className="tap">{title}</summary>
      <p className="small quiet">{purpose}</p>
      {files.isFetching ? <WorkLine job={building} what="Making the files, which are kept afterwards" /> : null}
      {files.isError && !files.isFetching ? (
        <p role="alert">
          The files could not be made: {files.error.message} The drawings above stay as they are.{' '}
          <button type="button" className="text-button" onClick={() => void files.refetch()}>
            Try again
          </button>
        </p>
      ) : null}
      {files.data === undefined ? null : (
        <ul className="solid-files" aria-label={title}>
          {files.data.map((file) => (
            <FileLink key={file.path} file={file} />
          ))}
        </ul>
      )}
    </details>
  )
}

function FileLink({ file: { href, path, title, bytes } }: { file: SolidListing }) {
  const name = path.slice(path.lastIndexOf('/') + 1)
  return (
    <li>
      <a href={href} download={name} className="tap">
        {title}
      </a>{' '}
      <span className="figure quiet">
        {name}, {sizeWords(bytes)}
      </span>
    </li>
  )
}

/** Programs rest on the tools and machines of the works as an order is planned: they stand in its papers. */
function MachinePrograms({ designId }: { designId: string }) {
  const orders = useOrders()
  const own = (orders.data?.orders ?? []).filter(({ designs }) => designs.includes(designId))
  return (
    <div className="solid-kind">
      <h3>Machine programs, ISO 6983</h3>
      <p className="small quiet">
        Programs rest on the tools of the works and are checked against the plan of an order: they stand at its stations
        Drill body and Notch. Each says in its head what must be checked before it runs.
      </p>
      {own.length === 0 ? (
        <p className="small">{orders.isPending ? 'Looking for orders …' : 'No order of this design is planned yet.'}</p>
      ) : (
        <ul className="solid-files">
          {own.map(({ id, customer }) => (
            <li key={id}>
              <Link
                to="/orders/$orderId"
                params={{ orderId: id }}
                search={{ design: designId, station: 'drill-body' }}
                className="tap"
              >
                Order {id}
              </Link>{' '}
              <span className="quiet">{customer}</span>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
