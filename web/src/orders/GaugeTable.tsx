import { formatFixed, type Gauge } from '@haspwright/engine'

/** What is measured with what: go and no-go, and at which stage of the part. */
export function GaugeTable({ gauges }: { gauges: readonly Gauge[] }) {
  if (gauges.length === 0) return null
  return (
    <section className="sheet-part">
      <h3>
        Gauges <small className="quiet">mm</small>
      </h3>
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">Feature</th>
            <th scope="col">Gauge</th>
            <th scope="col" className="right">
              Go
            </th>
            <th scope="col" className="right">
              No-go
            </th>
          </tr>
        </thead>
        <tbody>
          {gauges.map(({ feature, kind, goMm, noGoMm, stage }) => (
            <tr key={`${feature}${stage}`}>
              <th scope="row">{feature}</th>
              <td>
                {kind}, {stage}
              </td>
              <td className="figure right">{formatFixed(goMm, 3)}</td>
              <td className="figure right">{formatFixed(noGoMm, 3)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
