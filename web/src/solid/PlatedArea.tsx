import { formatFixed } from '@haspwright/engine'
import type { DesignSolidReport } from '@haspwright/server/client'

/** The faces that a bath plates, of one lock and of a full rack of the works: what its current is reckoned from. */
export function PlatedArea({ report: { plated, rack } }: { report: DesignSolidReport }) {
  const full = rack?.ok === true ? rack.rack : undefined
  return (
    <section className="solid-wide" aria-labelledby="solid-plated">
      <h3 id="solid-plated">Plated area, by part and by rack</h3>
      <div className="solid-scroll">
        <table className="solid-table">
          <thead>
            <tr>
              <th scope="col">Face</th>
              <th scope="col" className="number">
                In the solid, dm²
              </th>
              <th scope="col" className="number">
                Counts in the current
              </th>
              <th scope="col" className="number">
                One lock, dm²
              </th>
              {full === undefined ? null : (
                <th scope="col" className="number">
                  Rack of {full.locks} locks, dm²
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {plated.faces.map(({ title, solidMm2, currentShare, currentDm2 }, i) => (
              <tr key={title}>
                <th scope="row">{title}</th>
                <td className="figure number">{formatFixed(solidMm2 / 1e4, 3)}</td>
                <td className="figure number">{formatFixed(100 * currentShare, 0)} %</td>
                <td className="figure number">{formatFixed(currentDm2, 3)}</td>
                {full === undefined ? null : (
                  <td className="figure number">{formatFixed(full.faces[i]?.rackDm2 ?? 0, 2)}</td>
                )}
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">What the baths of a plan reckon with</th>
              <td />
              <td />
              <td className="figure number">{formatFixed(plated.currentDm2, 3)}</td>
              {full === undefined ? null : <td className="figure number">{formatFixed(full.rackDm2, 2)}</td>}
            </tr>
          </tfoot>
        </table>
      </div>
      <p className="small quiet">
        {full === undefined
          ? rack !== null && !rack.ok
            ? rack.because
            : 'No works file is stored, so that no rack is known.'
          : `A rack is full by ${full.limitedBy === 'places' ? 'its places' : 'the current of the rectifier'}; each place takes body and shackle of a lock. ${full.layers
              .map(({ metal, currentA }) => `${metal}: ${formatFixed(currentA, 1)} A`)
              .join(', ')}.`}{' '}
        Bores count by their coating beside the shackle’s: a bore plated a fifth as thick draws a fifth of the current.
        Not plated with the lock: {plated.notPlated.join(', ').toLowerCase()}.
      </p>
    </section>
  )
}
