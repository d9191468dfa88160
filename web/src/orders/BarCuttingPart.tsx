import type { BarCutting } from '@haspwright/engine'
import { barLayoutDrawing } from '@haspwright/papers/drawing'
import { Drawing } from '../sheet/Drawing.tsx'

/** How the bars are cut, over all lines of the order together: each drawing says how many, of how many, and whether fewer could do. */
export function BarCuttingPart({ cuttings }: { cuttings: readonly BarCutting[] }) {
  return (
    <section className="bar-cutting" aria-labelledby="bars-title">
      <div className="section-head">
        <h2 id="bars-title">Bars, all lines of the order together</h2>
      </div>
      {cuttings.map((cutting) => (
        <Drawing key={cutting.form} svg={barLayoutDrawing(cutting)} className="bar-drawing" />
      ))}
    </section>
  )
}
