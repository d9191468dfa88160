import { type ReactNode, type RefObject, useId, useLayoutEffect, useRef, useState } from 'react'
import { type Scale, scale, ticks } from './plot-geometry.ts'
import './plot.css'

/** Room around the drawing area for axes and their names. */
const EDGE = { left: 46, right: 10, top: 12, bottom: 40 } as const
/** A plot is drawn this wide before its place is measured, and never narrower than the second. */
const FIRST_WIDTH = 640
const LEAST_WIDTH = 280

export interface Axis {
  readonly label: string
  readonly domain: readonly [number, number]
  /** About how many marks. */
  readonly marks?: number
}

/** Where a plot draws: the edges of its area, and the fills made of strokes. */
export interface Area {
  readonly hatch: { readonly asked: string; readonly brittle: string }
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/**
 * A plot with axes, marks and units. It is drawn as wide as its place, so that its figures keep their size; a title and a description say
 * what it shows to those who do not see it.
 */
export function Plot({
  title,
  description,
  x,
  y,
  height,
  children,
}: {
  title: string
  description: string
  x: Axis
  y: Axis
  height: number
  children: (x: Scale, y: Scale, area: Area) => ReactNode
}) {
  const place = useRef<HTMLDivElement>(null)
  const width = useWidth(place)
  const id = useId()
  const hatch = { asked: `url(#${id}-asked)`, brittle: `url(#${id}-brittle)` }
  const area: Area = { hatch, left: EDGE.left, right: width - EDGE.right, top: EDGE.top, bottom: height - EDGE.bottom }
  const xAt = scale(x.domain, [area.left, area.right])
  const yAt = scale(y.domain, [area.bottom, area.top])
  return (
    <div ref={place} className="plot">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-labelledby={`${id}-title ${id}-words`}>
        <title id={`${id}-title`}>{title}</title>
        <desc id={`${id}-words`}>{description}</desc>
        <Hatches id={id} />
        <g className="plot-grid">
          {ticks(y.domain, y.marks ?? 5).map((value) => (
            <g key={value}>
              <line x1={area.left} x2={area.right} y1={yAt(value)} y2={yAt(value)} />
              <text x={area.left - 7} y={yAt(value)} dy="0.35em" textAnchor="end">
                {minus(value)}
              </text>
            </g>
          ))}
          {ticks(x.domain, x.marks ?? Math.max(3, Math.round(width / 90))).map((value) => (
            <g key={value}>
              <line className="plot-mark" x1={xAt(value)} x2={xAt(value)} y1={area.bottom} y2={area.bottom + 5} />
              <text x={xAt(value)} y={area.bottom + 18} textAnchor="middle">
                {minus(value)}
              </text>
            </g>
          ))}
          <path className="plot-axis" d={`M${area.left} ${area.top}V${area.bottom}H${area.right}`} />
          <text className="plot-unit" x={area.right} y={height - 5} textAnchor="end">
            {x.label}
          </text>
          <text className="plot-unit" x={0} y={height - 5}>
            ↑ {y.label}
          </text>
        </g>
        {children(xAt, yAt, area)}
      </svg>
    </div>
  )
}

/** Strokes instead of colour alone: what is asked for, and what costs toughness. */
function Hatches({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={`${id}-asked`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line className="asked-stroke" x1="0" x2="0" y1="0" y2="6" />
      </pattern>
      <pattern id={`${id}-brittle`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
        <line className="brittle-stroke" x1="0" x2="0" y1="0" y2="7" />
      </pattern>
    </defs>
  )
}

/** How wide a place is, px: what is drawn in it keeps the size of its figures. */
export function useWidth(place: RefObject<HTMLDivElement | null>): number {
  const [width, setWidth] = useState(FIRST_WIDTH)
  useLayoutEffect(() => {
    const element = place.current
    if (element === null) return
    const measure = () => setWidth(Math.max(LEAST_WIDTH, Math.round(element.clientWidth) || FIRST_WIDTH))
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [place])
  return width
}

const minus = (value: number) => String(value).replace('-', '−')
