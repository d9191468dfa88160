import { type AnyCalculation, calculations } from '@haspwright/engine'
import { Link } from '@tanstack/react-router'
import { usePageTitle } from '../frame/use-page-title.ts'
import { SourceStatusMark } from '../sheet/SourceList.tsx'
import { EvidenceNav } from './EvidenceNav.tsx'
import { type Ledger, sourceLedger } from './source-ledger.ts'
import './evidence.css'

/** Every source, how far it can be trusted, and what rests on it. */
export function SourcesPage() {
  const ledger = sourceLedger(calculations)
  usePageTitle('Sources')
  return (
    <div className="page">
      <h1>Sources</h1>
      <p className="lead">
        A source counts as published when the text itself was read. Common practice has no publication behind it. A
        figure from memory names what to confirm it in, and is not to be leaned on before.
      </p>
      <EvidenceNav />
      <Shares ledger={ledger} />
      <div className="table-scroll">
        <table className="ledger">
          <thead>
            <tr>
              <th scope="col">Status</th>
              <th scope="col">Source</th>
              <th scope="col">Computes</th>
              <th scope="col">Checks</th>
            </tr>
          </thead>
          <tbody>
            {ledger.entries.map(({ source, computes, checks }) => (
              <tr key={source.id} id={source.id}>
                <td>
                  <SourceStatusMark source={source} />
                </td>
                <td>
                  {source.citation}
                  {source.place === undefined ? '' : `, ${source.place}`}
                  {source.note === undefined ? null : <p className="small quiet">{source.note}</p>}
                </td>
                <td>
                  <CalculationLinks list={computes} />
                </td>
                <td>
                  <CalculationLinks list={checks} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  )
}

function Shares({ ledger: { published, practice, memory, entries } }: { ledger: Ledger }) {
  const parts = [
    ['published', 'Published and read', published],
    ['practice', 'Common practice', practice],
    ['memory', 'From memory, unverified', memory],
  ] as const
  return (
    <figure className="shares">
      <div className="shares-bar" aria-hidden="true">
        {parts.map(([kind, , n]) => (n === 0 ? null : <i key={kind} className={kind} style={{ flexGrow: n }} />))}
      </div>
      <figcaption>
        {parts.map(([kind, title, n]) => (
          <span key={kind}>
            <i className={`swatch ${kind}`} /> {title}: <span className="figure">{n}</span> of{' '}
            <span className="figure">{entries.length}</span> (
            <span className="figure">{entries.length === 0 ? 0 : Math.round((100 * n) / entries.length)} %</span>)
          </span>
        ))}
      </figcaption>
    </figure>
  )
}

function CalculationLinks({ list }: { list: readonly AnyCalculation[] }) {
  if (list.length === 0) return <span className="quiet">–</span>
  return (
    <ul>
      {list.map(({ id }) => (
        <li key={id}>
          <Link to="/evidence/calculations/$calculationId" params={{ calculationId: id }} className="figure">
            {id}
          </Link>
        </li>
      ))}
    </ul>
  )
}
