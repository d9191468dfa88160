import { formatNumber } from '@haspwright/engine'
import { Plot } from '../plot/Plot.tsx'
import { domainOf, linePath, type Point } from '../plot/plot-geometry.ts'
import { cycleSentence } from './cycle-words.ts'
import { type Cycle, placedSteps } from './furnace-cycle.ts'
import type { RecordRecipe } from './heat-inputs.ts'
import type { RecordLine } from './heat-view.ts'

/** A record laid over the recipe. */
export interface Overlay {
  readonly lines: readonly RecordLine[]
  /** Minute of the record at which the recipe begins. */
  readonly recipeStart: number
  /** What it is judged by, where that can be read. */
  readonly window: RecordRecipe | undefined
  /** The longest stretch at temperature. */
  readonly held: { readonly fromMinute: number; readonly toMinute: number } | undefined
  readonly words: string
}

/** Temperature over time: the recipe, and a record laid over it. */
export function CyclePlot({ cycle, overlay }: { cycle: Cycle; overlay: Overlay | undefined }) {
  const steps = placedSteps(cycle, overlay?.recipeStart ?? 0)
  const lines = overlay?.lines ?? []
  const readings = lines.flatMap(({ points }) => points)
  const minutes = [
    ...steps.flatMap(({ fromMinute, toMinute }) => [fromMinute, toMinute]),
    ...readings.map(([at]) => at),
  ]
  const temperatures = [...steps.map(({ toC }) => toC), 0, ...readings.flatMap(([, t]) => (t === null ? [] : [t]))]
  return (
    <Plot
      title="Furnace cycle"
      description={`${cycleSentence(cycle)}${overlay === undefined ? '' : ` ${overlay.words}`}`}
      x={{ label: overlay === undefined ? 'time, min' : 'time of the record, min', domain: extent(minutes) }}
      y={{ label: '°C', domain: domainOf([...temperatures, cycleTop(cycle) + 60], 100) }}
      height={300}
    >
      {(x, y, area) => (
        <>
          {overlay?.window === undefined ? null : (
            <rect
              className="asked-band"
              x={area.left}
              width={area.right - area.left}
              y={y(overlay.window.setC + overlay.window.plusK)}
              height={y(overlay.window.setC - overlay.window.minusK) - y(overlay.window.setC + overlay.window.plusK)}
              fill={area.hatch.asked}
            />
          )}
          {overlay?.held === undefined ? null : (
            <path
              className="held"
              d={`M${x(overlay.held.fromMinute)} ${area.bottom - 6}V${area.bottom - 14}M${x(overlay.held.fromMinute)} ${area.bottom - 10}H${x(overlay.held.toMinute)}M${x(overlay.held.toMinute)} ${area.bottom - 6}V${area.bottom - 14}`}
            />
          )}
          <path
            className="cycle-heat"
            d={`${linePath([[x(steps[0]?.fromMinute ?? 0), y(cycle.startC)], ...steps.map(({ toMinute, toC }): Point => [x(toMinute), y(toC)])])}V${area.bottom}H${x(steps[0]?.fromMinute ?? 0)}Z`}
          />
          {steps.map(({ name, open, fromMinute, toMinute, fromC, toC }) => (
            <path
              key={`${name} ${fromMinute}`}
              className={open ? 'line cycle-line open-step' : 'line cycle-line'}
              d={`M${x(fromMinute)} ${y(fromC)}L${x(toMinute)} ${y(toC)}`}
            />
          ))}
          {steps
            .filter(({ name }) => name === 'Soak' || name === 'Temper')
            .map(({ name, fromMinute, toMinute, toC, minutes: long }) => (
              <text
                key={name}
                className="plot-note strong"
                x={(x(fromMinute) + x(toMinute)) / 2}
                y={y(toC) - (overlay === undefined ? 9 : 22)}
                textAnchor="middle"
              >
                {name} {formatNumber(toC)} °C, {formatNumber(long)} min
              </text>
            ))}
          {lines.map(({ couple, points }, i) => (
            <path
              key={couple}
              className={`record-trace trace-${i % 4}`}
              d={linePath(points.map(([at, t]) => (t === null ? null : [x(at), y(t)])))}
            />
          ))}
        </>
      )}
    </Plot>
  )
}

const cycleTop = ({ steps }: Cycle) => steps.reduce((most, { toC }) => Math.max(most, toC), 0)

function extent(values: readonly number[]): readonly [number, number] {
  const low = values.reduce((least, value) => Math.min(least, value), 0)
  const high = values.reduce((most, value) => Math.max(most, value), 0)
  return high > low ? [low, high] : [low, low + 1]
}
