import { Link } from '@tanstack/react-router'
import { usePageTitle } from '../frame/use-page-title.ts'
import { SourceStatusMark } from '../sheet/SourceList.tsx'
import { EvidenceNav } from './EvidenceNav.tsx'
import { calculationsByRoom } from './rooms.ts'
import './evidence.css'

/** Everything that computes, room by room, each open to be tried. */
export function CalculationsPage() {
  const rooms = calculationsByRoom()
  usePageTitle('Evidence')
  return (
    <div className="page">
      <h1>Evidence</h1>
      <p className="lead">
        Every figure of a plan comes from one of these calculations. Open one, put in your own numbers, and see the
        formula, the sources and the cases it is checked against.
      </p>
      <EvidenceNav />
      {rooms.map(({ id, title, calculations }) => (
        <section key={id} className="room" aria-labelledby={`room-${id}`}>
          <div className="section-head">
            <h2 id={`room-${id}`}>{title}</h2>
          </div>
          <ul>
            {calculations.map((calculation) => (
              <li key={calculation.id}>
                <Link
                  to="/evidence/calculations/$calculationId"
                  params={{ calculationId: calculation.id }}
                  className="tap"
                >
                  {calculation.title}
                </Link>
                <p className="quiet">{calculation.summary}</p>
                <p className="room-status">
                  {[...new Map(calculation.sources.map((source) => [source.status, source])).values()].map((source) => (
                    <SourceStatusMark key={source.status} source={source} />
                  ))}
                </p>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </div>
  )
}
