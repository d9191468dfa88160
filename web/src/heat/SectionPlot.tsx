import type { Design } from '@haspwright/engine'
import { Plot } from '../plot/Plot.tsx'
import { bandPath, domainOf, linePath, mirrored, type Point, type Scale } from '../plot/plot-geometry.ts'
import type { HeatOfAnalysis } from './heat-view.ts'
import { sectionSentence } from './section-words.ts'

/** Hardness from one surface through the middle to the other, before and after tempering, with what is asked. */
export function SectionPlot({
  heat,
  middle,
  design,
}: {
  heat: HeatOfAnalysis
  middle: HeatOfAnalysis | undefined
  design: Design
}) {
  const radiusMm = design.shackle.barDiameter.nominalMm / 2
  const asked = design.heat.hardness
  const quenched = heat.quenched.ok ? mirrored(heat.quenched.output.section) : []
  const tempered = heat.tempered.ok ? mirrored(heat.tempered.output.section) : []
  const ghosts: readonly (readonly Place[])[] = [
    middle?.quenched.ok ? mirrored(middle.quenched.output.section) : [],
    middle?.tempered.ok ? mirrored(middle.tempered.output.section) : [],
  ]
  const values = [...quenched, ...tempered, ...ghosts.flat()].flatMap(({ hrc, lowHrc, highHrc }) => [
    hrc,
    lowHrc ?? hrc,
    highHrc ?? hrc,
  ])
  const upperBound = tempered.some(({ basis }) => basis === 'upper bound')
  return (
    <Plot
      title="Hardness over the section of the shackle"
      description={sectionSentence(heat, asked)}
      x={{ label: 'from the middle, mm', domain: [-radiusMm, radiusMm] }}
      y={{ label: 'HRC', domain: domainOf([...values, asked.minHrc - 1, asked.maxHrc + 1], 5) }}
      height={290}
    >
      {(x, y, area) => {
        const last = quenched.at(-1)
        const lastTempered = tempered.at(-1)
        return (
          <>
            <rect
              className="asked-band"
              x={area.left}
              width={area.right - area.left}
              y={y(asked.maxHrc)}
              height={y(asked.minHrc) - y(asked.maxHrc)}
              fill={area.hatch.asked}
            />
            <text className="plot-note asked-note" x={area.left + 8} y={y(asked.maxHrc) - 5}>
              asked {asked.minHrc} to {asked.maxHrc}
            </text>
            <path className="centre-line" d={`M${x(0)} ${area.top}V${area.bottom}`} />
            <path className="band quenched-band" d={bandOf(quenched, x, y)} />
            <path className="band tempered-band" d={bandOf(tempered, x, y)} />
            {ghosts.map((ghost, i) => (
              <path key={i === 0 ? 'quenched' : 'tempered'} className="ghost-line" d={lineOf(ghost, x, y)} />
            ))}
            <path className="line quenched-line" d={lineOf(quenched, x, y)} />
            <path className="line tempered-line" d={lineOf(tempered, x, y)} data-bound={upperBound || undefined} />
            {last === undefined ? null : (
              <text className="plot-note" x={area.right - 6} y={y(last.hrc) - 7} textAnchor="end">
                as quenched
              </text>
            )}
            {lastTempered === undefined ? null : (
              <text className="plot-note strong" x={area.right - 6} y={y(lastTempered.hrc) - 7} textAnchor="end">
                tempered{upperBound ? ', upper bound' : ''}
              </text>
            )}
          </>
        )
      }}
    </Plot>
  )
}

interface Place {
  readonly radiusMm: number
  readonly hrc: number
  readonly lowHrc?: number | undefined
  readonly highHrc?: number | undefined
}

const lineOf = (section: readonly Place[], x: Scale, y: Scale) =>
  linePath(section.map(({ radiusMm, hrc }): Point => [x(radiusMm), y(hrc)]))

/** The band between least and most; a side that is not given lies on the line itself. */
function bandOf(section: readonly Place[], x: Scale, y: Scale): string {
  const side = (pick: (place: Place) => number) => section.map((place): Point => [x(place.radiusMm), y(pick(place))])
  return bandPath(
    side(({ hrc, highHrc }) => highHrc ?? hrc),
    side(({ hrc, lowHrc }) => lowHrc ?? hrc),
  )
}
