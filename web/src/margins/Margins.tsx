import type { Finding } from '@haspwright/engine'
import { Fragment, type ReactNode } from 'react'
import { MarginRow } from './MarginRow.tsx'
import { LIMIT_AT, placeOf, TICKS } from './margin-geometry.ts'
import './margins.css'

/** All margins, tightest first, with their limits on one line. */
export function Margins({
  findings,
  before,
  stationOf,
  selected,
  onOpen,
  filter,
  under,
}: {
  findings: readonly Finding[]
  /** The same margins before a change, by id; each moved one keeps a mark where it was. */
  before?: ReadonlyMap<string, Finding>
  /** The name of the station that answers for a finding. */
  stationOf: (finding: Finding) => string
  selected?: string | undefined
  onOpen: (finding: Finding) => void
  filter?: ReactNode
  /** What stands under the opened row; without it the working is shown elsewhere. */
  under?: (finding: Finding) => ReactNode
}) {
  return (
    <section className="margins" aria-labelledby="margins-title">
      <div className="section-head">
        <h2 id="margins-title">Margins, tightest first</h2>
        {filter}
      </div>
      <div className="margin-axis" aria-hidden="true">
        <span />
        <span className="margin-plot">
          <b style={{ left: `${LIMIT_AT * 100}%` }}>limit</b>
          {TICKS.map((tick) => (
            <i key={tick} className={tick === 0.5 ? 'minor' : undefined} style={{ left: `${placeOf(tick).at * 100}%` }}>
              {tick < 0 ? `−${-tick * 100}` : `+${tick * 100}`}
              {tick === 2 ? ' %' : ''}
            </i>
          ))}
        </span>
        <span className="margin-value">judged at</span>
        <span className="margin-limit">asked</span>
      </div>
      {findings.length === 0 ? <p className="quiet margins-none">Nothing is asked of this station.</p> : null}
      <ol>
        {findings.map((finding) => (
          <Fragment key={finding.id}>
            <MarginRow
              finding={finding}
              before={before?.get(finding.id)}
              station={stationOf(finding)}
              selected={finding.id === selected}
              onOpen={() => onOpen(finding)}
            />
            {under !== undefined && finding.id === selected ? <li>{under(finding)}</li> : null}
          </Fragment>
        ))}
      </ol>
      <p className="margins-key small quiet">
        Bar to the right of the line: what is left, as a share of the limit. To the left: what is missing. Whisker:
        spread. Hatched: not known yet.
        {before === undefined ? '' : ' Dashed mark: before your change.'}
      </p>
    </section>
  )
}
