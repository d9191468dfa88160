import type { BarCutting } from '@haspwright/engine'
import { barLayoutDrawing } from '@haspwright/papers/drawing'
import { Drawing } from '../sheet/Drawing.tsx'
import { heatsOfCutting, remnantWords } from './bar-words.ts'

/** How the bars are cut, over all lines of the order together: each drawing says how many, of how many, and whether fewer could do. */
export function BarCuttingPart({ cuttings }: { cuttings: readonly BarCutting[] }) {
  return (
    <section className="bar-cutting" aria-labelledby="bars-title">
      <div className="section-head">
        <h2 id="bars-title">Bars, all lines of the order together</h2>
      </div>
      {cuttings.map((cutting) => (
        <div key={cutting.form}>
          <Drawing svg={barLayoutDrawing(cutting)} className="bar-drawing" />
          <HeatsAndRemnants cutting={cutting} />
        </div>
      ))}
    </section>
  )
}

/** From which heat each lot is cut, and what is carried back to the rack. */
function HeatsAndRemnants({ cutting }: { cutting: BarCutting }) {
  const heats = heatsOfCutting(cutting)
  const remnants = remnantWords(cutting)
  return (
    <div className="bar-notes">
      {heats.length === 0 ? null : (
        <ul aria-label={`Heats of ${cutting.form}`}>
          {heats.map(({ heat, bars, lots }) => (
            <li key={heat}>
              <strong>Heat {heat}</strong> {bars} {bars === 1 ? 'bar' : 'bars'}, for {lots.join(', ')}
            </li>
          ))}
        </ul>
      )}
      {remnants === undefined ? null : (
        <p>
          <strong>Back to the rack:</strong> {remnants}
        </p>
      )}
    </div>
  )
}
