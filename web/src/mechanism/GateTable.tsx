import { formatFixed, formatQuantity } from '@haspwright/engine'
import { type MadeUpPair, type Stretch, type WindowMarks, windowMarks } from './turning.ts'
import type { Mechanism } from './use-mechanism.ts'

/** Every disc with its made-up value, how far the key misses it, and where its gate stands beside the sidebar. */
export function GateTable({
  mechanism: { shown, windows, differences },
  pair,
  gatesDeg,
  front,
  onFront,
  onChoose,
}: {
  mechanism: Mechanism
  pair: MadeUpPair
  gatesDeg: readonly number[]
  front: number
  onFront: (disc: number) => void
  onChoose: (differences: readonly number[]) => void
}) {
  const { values, stepDeg } = shown.mechanism
  const spec = { halfWindowDeg: windows.drawnHalfDeg, sigmaDeg: windows.own.sigmaDeg }
  const reachDeg = Math.max(1.9 * stepDeg, 1.4 * (spec.halfWindowDeg + 3 * spec.sigmaDeg))
  const choose = (disc: number, steps: number) => onChoose(differences.map((was, i) => (i === disc ? steps : was)))
  return (
    <>
      <table className="gate-table">
        <thead>
          <tr>
            <th scope="col">Disc</th>
            <th scope="col">Lock</th>
            <th scope="col">Key</th>
            <th scope="col">Steps off</th>
            <th scope="col" className="gate-plot-head">
              <span>
                Window, <i aria-hidden="true">|</i> sidebar
              </span>
              <span className="figure">±{formatQuantity(reachDeg, '°', 3)}</span>
            </th>
            <th scope="col" className="right">
              Gate
            </th>
          </tr>
        </thead>
        <tbody>
          {gatesDeg.map((angle, disc) => {
            const marks = windowMarks(angle, { ...spec, reachDeg })
            const steps = differences[disc] ?? 0
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: discs have no other name than their place
              <tr key={disc} data-state={marks.state} data-front={disc === front || undefined}>
                <th scope="row">
                  <button
                    type="button"
                    className="text-button"
                    aria-pressed={disc === front}
                    aria-label={`Draw disc ${disc + 1}`}
                    onClick={() => onFront(disc)}
                  >
                    {disc + 1}
                  </button>
                </th>
                <td className="figure">{pair.lock[disc]}</td>
                <td className="figure">{pair.key[disc]}</td>
                <td>
                  <span className="stepper">
                    <button
                      type="button"
                      aria-label={`Disc ${disc + 1}, a step less`}
                      disabled={steps <= 1 - values}
                      onClick={() => choose(disc, steps - 1)}
                    >
                      −
                    </button>
                    <output className="figure">{steps < 0 ? `−${-steps}` : steps}</output>
                    <button
                      type="button"
                      aria-label={`Disc ${disc + 1}, a step more`}
                      disabled={steps >= values - 1}
                      onClick={() => choose(disc, steps + 1)}
                    >
                      +
                    </button>
                  </span>
                </td>
                <td>
                  <GatePlot marks={marks} />
                </td>
                <td className="figure right">
                  {formatFixed(angle, 1)}° <span className="gate-state">{STATES[marks.state]}</span>
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
      <p className="small quiet margins-key">
        Box: the window in which the sidebar passes. Filled: it passes still three standard deviations off to either
        side; hatched: it passes or not, as gate, cut and lost motion fall. Whisker: where the gate may stand, ±3σ.
      </p>
    </>
  )
}

const STATES = { sure: 'passes', perhaps: 'may pass', out: 'blocks' } as const

function GatePlot({ marks: { window, sure, spread, beyond, state } }: { marks: WindowMarks }) {
  return (
    <span className="gate-plot" data-state={state} aria-hidden="true">
      {window === undefined ? null : <i className="window" style={place(window)} />}
      {sure === undefined ? null : <i className="sure" style={place(sure)} />}
      {spread === undefined ? null : <i className="whisker" style={place(spread)} />}
      <i className="sidebar-line" />
      {beyond === undefined ? null : <i className={`beyond ${beyond}`}>{beyond === 'left' ? '◂' : '▸'}</i>}
    </span>
  )
}

const place = ({ from, to }: Stretch) => ({ left: `${from * 100}%`, width: `${(to - from) * 100}%` })
