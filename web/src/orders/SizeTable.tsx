import { formatFixed, type PartSize } from '@haspwright/engine'

/** Sizes before plating and finished. They differ where a face is covered: the machine is set to the first. */
export function SizeTable({ sizes }: { sizes: readonly PartSize[] }) {
  if (sizes.length === 0) return null
  const covered = sizes.some(({ beforePlatingMm }) => beforePlatingMm !== null)
  return (
    <section className="sheet-part">
      <h3>
        Sizes <small className="quiet">mm</small>
      </h3>
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">Feature</th>
            {covered ? (
              <th scope="col" className="right">
                Before plating
              </th>
            ) : null}
            <th scope="col" className="right">
              Finished
            </th>
          </tr>
        </thead>
        <tbody>
          {sizes.map(({ feature, beforePlatingMm, finishedMm, because }) => (
            <tr key={feature}>
              <th scope="row">
                {feature}
                {because === undefined ? null : <small className="quiet"> {because}</small>}
              </th>
              {covered ? (
                <td className="figure right">
                  {beforePlatingMm === null ? (
                    <span className="quiet">not covered</span>
                  ) : (
                    <strong>{rangeWords(beforePlatingMm)}</strong>
                  )}
                </td>
              ) : null}
              <td className="figure right">{rangeWords(finishedMm)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

const rangeWords = ({ minMm, maxMm }: { minMm: number; maxMm: number }) =>
  minMm === maxMm ? formatFixed(minMm, 3) : `${formatFixed(minMm, 3)} – ${formatFixed(maxMm, 3)}`
