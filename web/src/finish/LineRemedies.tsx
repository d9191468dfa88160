import { formatNumber } from '@haspwright/engine'
import { clock, stationName } from '@haspwright/papers/drawing'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import { type TriedLine, widenModel } from './use-line.ts'

const SHOWN = 6
const CHANGES = { 'second-tank': 'one more tank', 'wider-window': 'wider window' } as const

/** Which tank to double first, and what a wider window wins: each change alone, solved anew. */
export function LineRemedies({ tried }: { tried: TriedLine }) {
  const { remedies, draft, line, tryRemedy } = tried
  const helping = (remedies.output?.remedies ?? []).filter(({ gainS }) => gainS > 0.05)
  const idle = (remedies.output?.remedies ?? []).length - helping.length
  return (
    <section className="line-remedies" aria-labelledby="line-remedies" aria-busy={remedies.isWorking}>
      <h3 id="line-remedies">What would make it faster</h3>
      <div className="widen screen-only">
        <Field model={widenModel} draft={draftAt(draft, ['widenS'])} path={['widenS']} />
      </div>
      {remedies.issues.length > 0 ? (
        <p className="quiet">{remedies.issues.map(({ message }) => message).join(' ')}</p>
      ) : remedies.output === undefined || line === undefined ? (
        <p role="status" className="quiet">
          {remedies.isWorking ? 'Solving the line anew for every change …' : 'Worked out when the line is timed.'}
        </p>
      ) : helping.length === 0 ? (
        <p>No single change of a tank or a window makes the cycle shorter: the carrier itself is the limit.</p>
      ) : (
        <table className="sheet-table">
          <thead>
            <tr>
              <th scope="col">Change</th>
              <th scope="col" className="right">
                Cycle <small>min:s</small>
              </th>
              <th scope="col" className="right">
                More racks
              </th>
              <th scope="col" className="screen-only">
                <span className="visually-hidden">Try</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {helping.slice(0, SHOWN).map((remedy) => (
              <tr key={`${remedy.tank} ${remedy.change}`}>
                <th scope="row">
                  {stationName(line, remedy.tank)}
                  <small className="quiet">{CHANGES[remedy.change]}</small>
                </th>
                <td className="figure right">{clock(remedy.cycleS)}</td>
                <td className="figure right">+{formatNumber(remedy.gainPercent, 2)} %</td>
                <td className="right screen-only">
                  <button type="button" className="button" onClick={() => tryRemedy(remedy)}>
                    Try
                    <span className="visually-hidden">
                      : {CHANGES[remedy.change]} at {stationName(line, remedy.tank)}
                    </span>
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {idle === 0 || remedies.output === undefined ? null : (
        <p className="small quiet">
          {idle} other changes win nothing. Two together may win more than their sum, or less.
        </p>
      )}
    </section>
  )
}
