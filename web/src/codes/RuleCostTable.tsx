import { codesWords, percentWords } from '../mechanism/figure-words.ts'
import { type RuleCosts, shareOf } from './rule-costs.ts'

/** What each rule takes from the codes, the others staying. */
export function RuleCostTable({ costs }: { costs: Extract<RuleCosts, { ok: true }> }) {
  if (costs.costs.length === 0) return <p className="quiet">No rule is set: every code is usable.</p>
  return (
    <div className="table-scroll">
      <table className="orders-table rule-table">
        <thead>
          <tr>
            <th scope="col">Rule</th>
            <th scope="col" className="right">
              Usable with it
            </th>
            <th scope="col" className="right">
              Usable without it
            </th>
            <th scope="col" className="right">
              It takes
            </th>
            <th scope="col">
              <span className="visually-hidden">Share</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {costs.costs.map(({ rule, words, without, takes }) => {
            const share = takes === undefined || without === undefined ? undefined : shareOf(takes, without)
            return (
              <tr key={rule}>
                <td>{words}</td>
                <td className="figure right">{codesWords(costs.usable)}</td>
                <td className="figure right">
                  {without === undefined ? 'not known: too many to count' : codesWords(without)}
                </td>
                <td className="figure right">{takes === undefined ? 'not known' : codesWords(takes)}</td>
                <td className="rule-share">
                  {share === undefined ? null : (
                    <>
                      <i style={{ width: `${share * 100}%` }} aria-hidden="true" />
                      <span className="figure small">{percentWords(share)}</span>
                    </>
                  )}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}
