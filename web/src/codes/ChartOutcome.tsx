import { formatNumber } from '@haspwright/engine'
import { codesWords } from '../mechanism/figure-words.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import type { ChartReport } from './chart-report.ts'
import type { Charting } from './use-chart.ts'

/** How placing goes, and what the chart costs: what it gives away, what a lost key exposes, what is left. */
export function ChartOutcome({
  charting,
  isOfThisOrder,
  onExtend,
}: {
  charting: Charting
  isOfThisOrder: boolean
  onExtend: (chart: Blob, report: ChartReport) => void
}) {
  const { state, progress, answer } = charting
  return (
    <section aria-labelledby="outcome" className="chart-outcome">
      <div className="section-head">
        <h2 id="outcome">What it costs</h2>
        {answer !== undefined && !isOfThisOrder ? (
          <small>of the order as it was placed; it was changed since</small>
        ) : null}
      </div>
      {state === 'idle' ? <p className="quiet">Not placed yet.</p> : null}
      {state === 'cancelled' ? <p className="quiet">Cancelled. Nothing was kept.</p> : null}
      {state === 'fault' ? (
        <p className="short" role="alert">
          The chart broke off: a fault of ours, not yours. Your order is still here; placing it again may help.
        </p>
      ) : null}
      {state === 'running' ? (
        <div className="chart-progress">
          <progress aria-label="Placing the chart" value={progress?.share ?? 0} max={1} />
          <p className="small quiet" role="status">
            {progress?.doing ?? 'starting'} …
          </p>
        </div>
      ) : null}
      {answer?.ok === false ? <IssueList issues={answer.issues} title="No chart for this order" /> : null}
      {answer?.ok === true ? (
        <>
          <Price report={answer.report} />
          <p className="form-buttons screen-only">
            <button type="button" className="button" onClick={() => onExtend(answer.chart, answer.report)}>
              Extend this chart
            </button>
          </p>
        </>
      ) : null}
    </section>
  )
}

function Price({ report }: { report: ChartReport }) {
  const { verified, keys, locks, pairsTried, worstDifferingDiscs, unlistedCodesPerLock, locksPerLostKey } = report
  const rows: readonly (readonly [string, string, string])[] = [
    [
      'Unlisted codes per lock',
      `${formatNumber(unlistedCodesPerLock.max)} at most, ${formatNumber(unlistedCodesPerLock.mean)} on average`,
      'open the lock though no key of the chart has them',
    ],
    [
      'One lost key exposes',
      `${formatNumber(locksPerLostKey.max)} locks at most, ${formatNumber(locksPerLostKey.mean)} on average`,
      'have to be changed with it',
    ],
    [
      'Room left',
      `at least ${codesWords(`${report.room.locks}`)} more locks${report.room.under === undefined ? '' : ` under ${report.room.under}`}`,
      'in the fullest group, all that is made staying as it is',
    ],
    ['Discs left', `${report.discsLeft}`, 'have one gate in every lock: a further level could own them'],
    [
      'A foreign key misses',
      `${worstDifferingDiscs} ${worstDifferingDiscs === 1 ? 'disc' : 'discs'} at least`,
      'in every lock it may not open',
    ],
    [
      'Placed',
      report.method === 'levels' ? 'level by level' : 'by search',
      'each level owns discs, or keys that cross',
    ],
  ]
  return (
    <>
      <p className="sentence" data-verdict={verified ? 'holds' : 'falls-short'}>
        <strong>{verified ? 'Who opens what, and nobody else.' : 'Not as listed.'}</strong> {codesWords(`${keys}`)} keys
        tried in {codesWords(`${locks}`)} locks, {codesWords(`${pairsTried}`)} trials in all.
      </p>
      {report.kept === undefined ? null : (
        <p className={report.kept.unchanged ? undefined : 'short'}>
          {report.kept.unchanged
            ? `All ${codesWords(`${report.kept.keys}`)} keys and ${codesWords(`${report.kept.locks}`)} locks made before are as they were, compared cut by cut and gate by gate.`
            : 'A key or lock made before is not as it was: do not use this chart.'}
        </p>
      )}
      <table className="orders-table price-table">
        <tbody>
          {rows.map(([title, value, words]) => (
            <tr key={title}>
              <th scope="row">{title}</th>
              <td>
                {value}
                <span className="small quiet"> {words}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <NoticeList notices={report.notices} />
    </>
  )
}
