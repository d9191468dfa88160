import { codesWords, percentWords, ruleWords, surelyWords } from './figure-words.ts'
import { costOf, ownOpensAfter, remedyWords, withRemedy } from './remedy.ts'
import type { Mechanism } from './use-mechanism.ts'

/** Single changes that would make a separation rule unnecessary, the smallest first, each to be tried here. */
export function Remedies({ mechanism }: { mechanism: Mechanism }) {
  const { differs, shown, isCounted, remedies, areRemediesFound, remediesProgress, tryDesign } = mechanism
  return (
    <section className="remedies" aria-labelledby="remedies">
      <div className="section-head">
        <h2 id="remedies">What would win codes</h2>
        <small>each change alone; smallest against today’s figure first</small>
      </div>
      {differs === undefined || remedies === undefined || !isCounted || !areRemediesFound ? (
        <div className="remedies-progress">
          <progress aria-label="Looking for remedies" value={remediesProgress?.share ?? 0} max={1} />
          <p className="small quiet" role="status">
            Being worked out: {remediesProgress?.doing ?? 'starting'} …
          </p>
        </div>
      ) : remedies.length === 0 ? (
        <p className="quiet">
          {differs.rule.needed === 'none'
            ? 'Nothing is needed: all usable codes keep apart, and the own key opens as often as asked.'
            : 'No single change of these figures would do without a separation rule.'}
        </p>
      ) : (
        <div className="table-scroll">
          <table className="orders-table remedy-table">
            <thead>
              <tr>
                <th scope="col">Change</th>
                <th scope="col">Figures</th>
                <th scope="col" className="right">
                  Cost, of today’s figure
                </th>
                <th scope="col" className="right">
                  Codes then apart
                </th>
                <th scope="col" className="right">
                  Won
                </th>
                <th scope="col" className="right">
                  Own key then
                </th>
                <th scope="col">
                  <span className="visually-hidden">Try</span>
                </th>
              </tr>
            </thead>
            <tbody>
              <tr>
                <td>
                  {differs.rule.needed === 'congruence' ? 'Issue under the rule, change nothing' : 'Change nothing'}
                </td>
                <td>{ruleWords(differs)}</td>
                <td className="figure right">{percentWords(0)}</td>
                <td className="figure right">{codesWords(differs.separated)}</td>
                <td className="figure right">0</td>
                <td className="figure right">{surelyWords(differs.ownKey)}</td>
                <td />
              </tr>
              {remedies.map((remedy) => (
                <tr key={remedy.field}>
                  <td>{remedy.title}</td>
                  <td>{remedyWords(shown, remedy)}</td>
                  <td className="figure right">{percentWords(costOf(remedy))}</td>
                  <td className="figure right">{codesWords(remedy.separated)}</td>
                  <td className="figure right">
                    {remedy.won.startsWith('-') ? `−${codesWords(remedy.won.slice(1))}` : `+${codesWords(remedy.won)}`}
                  </td>
                  <td className="figure right">{surelyWords(ownOpensAfter(shown, remedy))}</td>
                  <td>
                    <button type="button" className="button" onClick={() => tryDesign(withRemedy(shown, remedy))}>
                      Try it<span className="visually-hidden">: {remedy.title}</span>
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  )
}
