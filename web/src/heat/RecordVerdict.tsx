import { formatNumber } from '@haspwright/engine'
import { NoticeList } from '../sheet/NoticeList.tsx'
import type { RecordAnswer } from './heat-view.ts'

const HEADS = {
  accepted: 'Accepted: every check holds.',
  rejected: 'Rejected: a check falls short.',
  'not known': 'Not known yet: the log does not show everything that is checked.',
} as const

/** What a record says of the charge, check by check. Prints with the sheet. */
export function RecordVerdict({ name, answer }: { name: string; answer: Extract<RecordAnswer, { ok: true }> }) {
  const { judged, readings, lines, notices } = answer
  return (
    <section className="record-verdict" aria-labelledby="record-title">
      <h4 id="record-title">Furnace record {name}</h4>
      <p className="small quiet">
        {formatNumber(readings, 6)} readings of {lines.length} {lines.length === 1 ? 'couple' : 'couples'}:{' '}
        {lines.map(({ couple }, i) => (
          <span key={couple} className="couple">
            <svg viewBox="0 0 26 8" aria-hidden="true">
              <path className={`record-trace trace-${i % 4}`} d="M0 4H26" />
            </svg>{' '}
            {couple}
          </span>
        ))}
        . Not stored.
      </p>
      {judged.ok ? (
        <>
          <p role="status">
            <strong className={judged.output.verdict === 'rejected' ? 'short' : ''}>
              {HEADS[judged.output.verdict]}
            </strong>
          </p>
          <table className="sheet-table">
            <thead>
              <tr>
                <th scope="col">Check</th>
                <th scope="col" className="right">
                  Found
                </th>
                <th scope="col" className="right">
                  Required
                </th>
                <th scope="col">Verdict</th>
              </tr>
            </thead>
            <tbody>
              {judged.output.checks.map(({ what, found, required, verdict }) => (
                <tr key={what}>
                  <th scope="row">{what}</th>
                  <td className="figure right">{found}</td>
                  <td className="figure right">{required}</td>
                  <td className={verdict === 'falls short' ? 'short' : ''}>{verdict}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <NoticeList notices={[...notices, ...judged.notices]} />
        </>
      ) : (
        <p>Not judged yet: {judged.because}</p>
      )}
    </section>
  )
}
