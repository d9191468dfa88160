import { formatMinutes, type Lot } from '@haspwright/engine'

/** What is made and judged together. */
export function LotsTable({ lots }: { lots: readonly Lot[] }) {
  return (
    <section aria-labelledby="lots-title">
      <div className="section-head">
        <h2 id="lots-title">Lots</h2>
        <small>what is made and judged together</small>
      </div>
      <div className="table-scroll">
        <table className="sheet-table lots">
          <thead>
            <tr>
              <th scope="col">Lot</th>
              <th scope="col">Design</th>
              <th scope="col">Keying</th>
              <th scope="col" className="right">
                Locks
              </th>
              <th scope="col" className="right">
                Keys
              </th>
              <th scope="col">Sample</th>
              <th scope="col" className="right">
                Work
              </th>
            </tr>
          </thead>
          <tbody>
            {lots.map((lot) => (
              <tr key={lot.id}>
                <th scope="row" className="figure">
                  {lot.id}
                </th>
                <td>{lot.design}</td>
                <td>{lot.keying}</td>
                <td className="figure right">{lot.locks}</td>
                <td className="figure right">{lot.keys}</td>
                <td>{samplingWords(lot)}</td>
                <td className="figure right">{workWords(lot)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}

function samplingWords({ sampling }: Lot): string {
  if (sampling === null) return '–'
  if (sampling.inspectAll) return 'every lock'
  return `${sampling.sampleSize} locks, accept ${sampling.accept}, reject ${sampling.reject}`
}

function workWords({ steps }: Lot): string {
  if (steps.length === 0 || steps.some(({ minutes }) => minutes === null)) return 'not known yet'
  return formatMinutes(steps.reduce((sum, { minutes }) => sum + (minutes ?? 0), 0))
}
