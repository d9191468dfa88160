import { codesWords } from '../mechanism/figure-words.ts'
import type { NamedOrder } from './chart-order-text.ts'
import { addedTo } from './made-chart.ts'
import type { MadeCharts } from './use-made-chart.ts'

/** New names that are written out; the rest is told by its number. */
const SHOWN = 8

/** A chart made before: keys and locks in it stay as they are, and what is typed is added. */
export function ExtendChart({ made, typed }: { made: MadeCharts; typed: NamedOrder }) {
  const { chosen, choose, reading, order, trouble } = made
  const added = addedTo(order, typed)
  return (
    <div className="field">
      <label htmlFor="chart-made">Extend a chart made before</label>
      <input
        id="chart-made"
        type="file"
        accept=".json,application/json"
        aria-describedby="chart-made-hint"
        onChange={({ target }) => {
          const [file] = target.files ?? []
          if (file !== undefined) choose({ file, title: file.name })
          target.value = '' // the same file may be chosen again
        }}
      />
      <p id="chart-made-hint" className="hint">
        A chart as <span className="figure">codes.chart</span> gives it. It holds cuts: it is read away from this page
        and sent nowhere.
      </p>
      {chosen === undefined ? null : (
        <div className="made-chart" role="status">
          {trouble !== undefined ? (
            <p className="short">
              {chosen.title}: {trouble}
            </p>
          ) : reading ? (
            <p className="quiet">Reading {chosen.title} …</p>
          ) : (
            <>
              <p>
                <strong>{chosen.title}</strong>: {codesWords(`${order.keys.length}`)} keys and{' '}
                {codesWords(`${order.locks.length}`)} locks stay as they are.
              </p>
              <p>
                New: {listWords(added.keys, 'key')}; {listWords(added.locks, 'lock')}.
              </p>
            </>
          )}
          <button type="button" className="button" onClick={() => choose(undefined)}>
            Start a new chart instead
          </button>
        </div>
      )}
    </div>
  )
}

function listWords(names: readonly string[], word: string): string {
  if (names.length === 0) return `no ${word}`
  const more = names.length > SHOWN ? ` and ${names.length - SHOWN} more` : ''
  return `${names.length} ${word}${names.length === 1 ? '' : 's'} (${names.slice(0, SHOWN).join(', ')}${more})`
}
