import { isPublished, type Source } from '@haspwright/engine'
import './source-list.css'

/** Where figures come from, each with how far it can be trusted. */
export function SourceList({ sources }: { sources: readonly Source[] }) {
  return (
    <ul className="sources">
      {sources.map((source) => (
        <li key={source.id}>
          <SourceStatusMark source={source} /> {source.citation}
          {source.place === undefined ? '' : `, ${source.place}`}.
          {source.note === undefined ? null : <span className="quiet"> {source.note}</span>}
        </li>
      ))}
    </ul>
  )
}

/** The status in its own words; what nobody published is set apart by its frame, not by colour alone. */
export function SourceStatusMark({ source }: { source: Pick<Source, 'status'> }) {
  const kind = isPublished({ id: '', citation: '', ...source })
    ? 'published'
    : source.status.startsWith('common')
      ? 'practice'
      : 'memory'
  return <span className={`status ${kind}`}>{source.status}</span>
}
