import { type BarCutting, formatNumber } from '@haspwright/engine'
import { barLayoutDrawing } from '@haspwright/papers/drawing'
import { Drawing } from '../sheet/Drawing.tsx'

/** How the bars are cut, over all lines of the order together. */
export function BarCuttingPart({ cuttings }: { cuttings: readonly BarCutting[] }) {
  return (
    <section className="sheet-part">
      <h3>Bars, all lines of the order together</h3>
      {cuttings.map((cutting) => (
        <div key={cutting.form} className="bar-cutting">
          <p>
            <strong>{cutting.form}:</strong> {layoutWords(cutting)}
          </p>
          <Drawing svg={barLayoutDrawing(cutting)} className="bar-drawing" />
        </div>
      ))}
    </section>
  )
}

function layoutWords({ layout, because, inStock }: BarCutting): string {
  if (layout === undefined) return `no layout: ${because ?? 'not known yet'}`
  const proof = layout.proven ? 'proven least' : `no fewer than ${layout.lowerBound} possible`
  return `${layout.bars} ${layout.bars === 1 ? 'bar' : 'bars'} of ${inStock} in stock, ${proof}, ${formatNumber(layout.usePercent, 3)} % of the material used.`
}
