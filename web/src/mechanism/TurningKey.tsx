import { formatFixed, formatQuantity } from '@haspwright/engine'
import { barrelSectionDrawing } from '@haspwright/papers/drawing'
import { useMemo, useState } from 'react'
import { Drawing } from '../sheet/Drawing.tsx'
import { GateTable } from './GateTable.tsx'
import { discsInTheWay, fullTurnDeg, gateAngles, madeUpPair, turningWords } from './turning.ts'
import { useKeyTurn } from './use-key-turn.ts'
import type { Mechanism } from './use-mechanism.ts'

/** The key turned in the lock: the barrel cut across, and every gate beside the sidebar. */
export function TurningKey({ mechanism }: { mechanism: Mechanism }) {
  const { shown, windows, differences, nearest, choose } = mechanism
  const { discs, values, stepDeg, rockDeg } = shown.mechanism
  const stopDeg = fullTurnDeg({ values, stepDeg })
  const { keyDeg, isTurning, turn, stop, set } = useKeyTurn(stopDeg)
  const [chosenFront, setFront] = useState(0)
  const front = Math.min(chosenFront, discs - 1)
  const pair = useMemo(() => madeUpPair(differences, values), [differences, values])
  const gatesDeg = gateAngles(pair, { values, stepDeg, keyDeg })
  const inTheWay = discsInTheWay(gatesDeg, windows.drawnHalfDeg)
  const words = turningWords(inTheWay, discs)
  const svg = barrelSectionDrawing(shown, {
    gatesDeg,
    front,
    keyDeg,
    dropped: inTheWay.length === 0,
    halfWindowDeg: windows.drawnHalfDeg,
  })
  const most = Math.ceil((stopDeg + rockDeg) * 2) / 2
  return (
    <section className="turning" aria-labelledby="turning">
      <div className="section-head">
        <h2 id="turning">The key turned in the lock</h2>
        <small>Lock and key are made up for the drawing; no issued code is shown.</small>
      </div>
      <div className="turning-columns">
        <figure className="section-figure">
          <Drawing svg={svg} className="section-drawing" />
          <div className="key-turn screen-only">
            <label htmlFor="key-turn" className="label">
              Key turned by
            </label>
            <input
              id="key-turn"
              type="range"
              min={0}
              max={most}
              step={0.5}
              value={keyDeg}
              aria-valuetext={`${formatFixed(keyDeg, 1)}°. ${words}`}
              onChange={(event) => set(Number(event.target.value))}
            />
            <output className="figure" htmlFor="key-turn">
              {formatFixed(keyDeg, 1)}°
            </output>
            <button type="button" className="button" onClick={isTurning ? stop : turn}>
              {isTurning ? 'Stop' : 'Turn the key'}
            </button>
          </div>
          <p className="small quiet">
            The stop stands at {formatQuantity(stopDeg, '°')}; past it the key can be rocked by{' '}
            {formatQuantity(rockDeg, '°')}. Discs, gates, barrel and sidebar width to scale; key, hole and the sidebar’s
            depth drawn freely.
          </p>
        </figure>
        <div className="gates">
          <p className="turning-words" data-open={inTheWay.length === 0 || undefined}>
            {words}
          </p>
          <p className="gate-presets screen-only">
            <button type="button" className="button" onClick={() => choose([])}>
              Own key
            </button>
            <button type="button" className="button" onClick={() => choose(nearest)}>
              Nearest other key
            </button>
          </p>
          <GateTable
            mechanism={mechanism}
            pair={pair}
            gatesDeg={gatesDeg}
            front={front}
            onFront={setFront}
            onChoose={choose}
          />
        </div>
      </div>
    </section>
  )
}
