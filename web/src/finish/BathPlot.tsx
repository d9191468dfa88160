import { Plot } from '../plot/Plot.tsx'
import { linePath, type Point, ticks } from '../plot/plot-geometry.ts'
import { type BathAnalysis, type BathKind, type BathLimits, type Followed, titleOf, unitOf } from './bath-kinds.ts'
import { bandOf, figureOf, standing } from './bath-log.ts'

const DAY_MS = 86_400_000
const dayOf = (date: string) => Date.parse(date) / DAY_MS

/** One figure of the bath over time, with the band it is kept in. A sample outside of it is a square, inside a disc. */
export function BathPlot({
  kind,
  log,
  limits,
  name,
}: {
  kind: BathKind
  log: readonly BathAnalysis[]
  limits: BathLimits
  name: Followed
}) {
  const points = log.flatMap((analysis) => {
    const value = analysis[name]
    return value === undefined ? [] : [{ date: analysis.date, day: dayOf(analysis.date), value }]
  })
  const first = points[0]
  if (first === undefined) return <p className="quiet">No analysis of it yet.</p>
  const [low, high] = bandOf(limits, name)
  const days = points.map(({ day }) => day - first.day)
  const last = Math.max(7, ...days)
  const values = [low, high, ...points.map(({ value }) => value)]
  const span = Math.max(...values) - Math.min(...values) || 1
  const domain = [Math.max(0, Math.min(...values) - span * 0.12), Math.max(...values) + span * 0.12] as const
  return (
    <Plot
      title={`${titleOf(kind, name)} over time`}
      description={`Kept between ${figureOf(name, low)} and ${figureOf(name, high)}. ${points.map(({ date, value }) => `${date}: ${figureOf(name, value)}`).join(', ')}.`}
      x={{ label: `days since ${first.date}`, domain: [0, last], marks: Math.min(8, ticks([0, last], 8).length) }}
      y={{ label: unitOf(name) === '' ? titleOf(kind, name) : unitOf(name), domain }}
      height={250}
    >
      {(x, y, area) => (
        <>
          <rect
            className="asked-band"
            x={area.left}
            width={area.right - area.left}
            y={y(high)}
            height={Math.max(0, y(low) - y(high))}
            fill={area.hatch.asked}
          />
          <path className="line" d={linePath(points.map(({ value }, i): Point => [x(days[i] ?? 0), y(value)]))} />
          {points.map(({ date, value }, i) => {
            const [cx, cy] = [x(days[i] ?? 0), y(value)]
            return standing(value, [low, high]) === 'within' ? (
              <circle key={date} className="sample" cx={cx} cy={cy} r="4" />
            ) : (
              <rect key={date} className="sample out" x={cx - 5} y={cy - 5} width="10" height="10" />
            )
          })}
        </>
      )}
    </Plot>
  )
}
