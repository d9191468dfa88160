import { type Design, formatFixed, formatNumber, type Works } from '@haspwright/engine'
import { Plot } from '../plot/Plot.tsx'
import { domainOf, linePath, type Scale } from '../plot/plot-geometry.ts'
import type { CurvePoint, HeatView } from './heat-view.ts'
import { temperingSentence } from './tempering-words.ts'

const COOLEST_C = 100
const HOTTEST_C = 720

/** Hardness left by tempering temperature: the card, the chosen point, what is asked, what embrittles, and the bake below. */
export function TemperingPlot({ view, design, works }: { view: HeatView; design: Design; works: Works | undefined }) {
  const { shown, middle, cardRows, embrittling, bake } = view
  const { temperC, hardness, temperMinutes } = design.heat
  const chosenHrc = shown.tempered.ok ? shown.tempered.output.surfaceHrc : undefined
  const values = [...shown.curve, ...(middle?.curve ?? []), ...cardRows].map(({ hrc }) => hrc)
  const ac1C = shown.points.ok ? shown.points.output.ac1C : undefined
  return (
    <Plot
      title="Tempering curve"
      description={temperingSentence(view, design, works)}
      x={{ label: 'tempering temperature, °C', domain: [COOLEST_C, HOTTEST_C], marks: 6 }}
      y={{ label: 'HRC', domain: domainOf([...values, hardness.minHrc, hardness.maxHrc, chosenHrc ?? 30], 10) }}
      height={330}
    >
      {(x, y, area) => (
        <>
          {embrittling.map(({ name, minC, maxC }, i) => (
            <g key={name} className="brittle">
              <rect
                x={x(minC)}
                width={x(maxC) - x(minC)}
                y={area.top + i * 20}
                height={area.bottom - area.top - i * 20}
                fill={area.hatch.brittle}
              />
              <text className="plot-note" x={x(minC) + 4} y={area.top + i * 20 + 13}>
                {name}
              </text>
            </g>
          ))}
          <rect
            className="asked-band"
            x={area.left}
            width={area.right - area.left}
            y={y(hardness.maxHrc)}
            height={y(hardness.minHrc) - y(hardness.maxHrc)}
            fill={area.hatch.asked}
          />
          <text className="plot-note asked-note" x={area.right - 6} y={y(hardness.maxHrc) - 5} textAnchor="end">
            asked {hardness.minHrc} to {hardness.maxHrc}
          </text>
          <BakeMarks bake={bake} setC={works?.bake.setC} temperC={temperC} x={x} bottom={area.bottom} />
          <path className="ghost-line" d={curvePath(middle?.curve ?? [], x, y)} />
          <path className="line tempered-line" d={curvePath(shown.curve, x, y)} />
          {cardRows.map(({ temperatureC, hrc }) => (
            <circle key={temperatureC} className="card-point" cx={x(temperatureC)} cy={y(hrc)} r="4" />
          ))}
          {ac1C === undefined || ac1C > HOTTEST_C ? null : (
            <path className="centre-line" d={`M${x(ac1C)} ${area.top}V${area.bottom}`} />
          )}
          <path
            className="chosen-drop"
            d={`M${x(temperC)} ${chosenHrc === undefined ? area.top : y(chosenHrc)}V${area.bottom}`}
          />
          {chosenHrc === undefined ? null : (
            <g className="chosen" data-temperature={temperC}>
              <circle cx={x(temperC)} cy={y(chosenHrc)} r="6.5" />
              <text
                className="plot-note strong"
                x={x(temperC) + (labelLeft(temperC) ? -11 : 11)}
                y={y(chosenHrc) + (labelLeft(temperC) ? 20 : -9)}
                textAnchor={labelLeft(temperC) ? 'end' : 'start'}
              >
                {formatNumber(temperC)} °C, {formatNumber(temperMinutes)} min: {formatFixed(chosenHrc, 1)} HRC
              </text>
            </g>
          )}
        </>
      )}
    </Plot>
  )
}

/** Hot temperings stand near the right edge: their label goes to the free side of the curve. */
const labelLeft = (temperC: number) => temperC > 500

/** The bake, below the tempering: its range on the axis, the oven, and the gap left. */
function BakeMarks({
  bake,
  setC,
  temperC,
  x,
  bottom,
}: {
  bake: HeatView['bake']
  setC: number | undefined
  temperC: number
  x: Scale
  bottom: number
}) {
  const y = bottom - 12
  const range = 'none' in bake ? undefined : bake
  if (range === undefined || setC === undefined) return null
  return (
    <g className="bake">
      <rect x={x(range.minC)} width={x(range.maxC) - x(range.minC)} y={bottom - 24} height="24" />
      <path className="bake-oven" d={`M${x(setC)} ${bottom - 30}V${bottom}`} />
      <path className="bake-gap" d={`M${x(setC)} ${y}H${x(temperC)}`} />
      <path className="bake-gap" d={`M${x(temperC) - 6} ${y - 3}L${x(temperC)} ${y}L${x(temperC) - 6} ${y + 3}`} />
      <text className="plot-note" x={x(range.minC) - 5} y={bottom - 8} textAnchor="end">
        bake
      </text>
      <text className="plot-note" x={(x(range.maxC) + x(temperC)) / 2} y={y - 5} textAnchor="middle">
        gap {formatNumber(temperC - setC)} K
      </text>
    </g>
  )
}

const curvePath = (curve: readonly CurvePoint[], x: Scale, y: Scale) =>
  linePath(curve.map(({ temperatureC, hrc }) => [x(temperatureC), y(hrc)] as const))
