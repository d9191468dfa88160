import { formatNumber } from '@haspwright/engine'
import { type CoatOutline, type CoatPoint, SHADES, shadeOf } from './thickness-geometry.ts'
import type { DistributionInput } from './thickness-section.ts'

const SIZE = { width: 620, height: 400 } as const
const EDGE = { side: 170, end: 52 } as const
/** How high the thickest coat is drawn, px: a coat of hundredths of a millimetre shows only when it is drawn far too thick. */
const COAT_PX = 30

/** The part cut across with its coat drawn far too thick: shade and height say the same, a dashed line is the least asked for. */
export function ThicknessFigure({
  coats,
  input,
  leastUm,
  words,
}: {
  coats: readonly CoatOutline[]
  input: DistributionInput
  leastUm: number
  words: string
}) {
  const all = coats.flat()
  const [thin, thick] = [extreme(all, (a, b) => a.um < b.um), extreme(all, (a, b) => a.um > b.um)]
  if (thin === undefined || thick === undefined) return null
  const range = [thin.um, thick.um] as const
  const others = [...input.circles, ...input.rectangles].filter(({ role }) => role === 'thief' || role === 'shield')
  const place = placing([...all, ...others.map(({ xMm, yMm }) => ({ x: xMm, y: yMm }))])
  const px = COAT_PX / Math.max(thick.um, leastUm)
  const outside = ({ x, y, out }: CoatPoint, um: number) =>
    `${f(place.x(x) + out[0] * um * px)} ${f(place.y(y) - out[1] * um * px)}`
  return (
    <svg
      viewBox={`0 0 ${SIZE.width} ${SIZE.height}`}
      className="thickness-drawing"
      role="img"
      aria-labelledby="thickness-title thickness-words"
    >
      <title id="thickness-title">Thickness of the nickel over the outline</title>
      <desc id="thickness-words">{words}</desc>
      <defs>
        <pattern id="thickness-cut" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M3.5 0V7" className="cut-stroke" />
        </pattern>
        <pattern id="thickness-short" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
          <path d="M2 0V4" className="short-stroke" />
        </pattern>
      </defs>
      <AnodeArrows />
      {others.map((other) => (
        <Other key={`${other.role} ${other.xMm} ${other.yMm}`} other={other} place={place} />
      ))}
      {coats.map((coat, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: outlines stand in the order of the section
        <g key={k}>
          {coat.map((point, i) => {
            const next = coat[(i + 1) % coat.length] ?? point
            const quad = `M${f(place.x(point.x))} ${f(place.y(point.y))}L${outside(point, point.um)}L${outside(next, next.um)}L${f(place.x(next.x))} ${f(place.y(next.y))}Z`
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: panels stand in the order of the outline
              <g key={i}>
                <path className={`coat shade-${shadeOf((point.um + next.um) / 2, range)}`} d={quad} />
                {Math.min(point.um, next.um) < leastUm ? <path d={quad} fill="url(#thickness-short)" /> : null}
              </g>
            )
          })}
          <path
            className="metal"
            d={closed(coat.map(({ x, y }) => `${f(place.x(x))} ${f(place.y(y))}`))}
            fill="url(#thickness-cut)"
          />
          <path className="least-line" d={closed(coat.map((point) => outside(point, leastUm)))} />
        </g>
      ))}
      <Note
        point={thin}
        place={place}
        outUm={Math.max(thin.um, leastUm) * px}
        words={`thinnest ${formatNumber(thin.um, 3)} µm`}
        short={thin.um < leastUm}
      />
      <Note
        point={thick}
        place={place}
        outUm={thick.um * px}
        words={`thickest ${formatNumber(thick.um, 3)} µm`}
        short={false}
      />
    </svg>
  )
}

const f = (value: number) => String(Math.round(value * 100) / 100)
const closed = (points: readonly string[]) => (points.length === 0 ? '' : `M${points.join('L')}Z`)
const extreme = (points: readonly CoatPoint[], better: (a: CoatPoint, b: CoatPoint) => boolean) =>
  points.reduce<CoatPoint | undefined>(
    (best, point) => (best === undefined || better(point, best) ? point : best),
    undefined,
  )

interface Place {
  readonly scale: number
  x(mm: number): number
  y(mm: number): number
}

/** Parts and what hangs beside them, as large as they go into the middle; up in the cut is up in the drawing. */
function placing(points: readonly { readonly x: number; readonly y: number }[]): Place {
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)]
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  const room = { width: SIZE.width - 2 * EDGE.side, height: SIZE.height - 2 * EDGE.end }
  const scale = Math.min(room.width / Math.max(1, right - left), room.height / Math.max(1, high - low))
  return {
    scale,
    x: (mm) => SIZE.width / 2 + (mm - (left + right) / 2) * scale,
    y: (mm) => SIZE.height / 2 - (mm - (low + high) / 2) * scale,
  }
}

function AnodeArrows() {
  const y = SIZE.height / 2
  return (
    <g className="anode-way">
      <path d={`M62 ${y}H14M22 ${y - 5}L14 ${y}L22 ${y + 5}`} />
      <path
        d={`M${SIZE.width - 62} ${y}H${SIZE.width - 14}M${SIZE.width - 22} ${y - 5}L${SIZE.width - 14} ${y}L${SIZE.width - 22} ${y + 5}`}
      />
      <text x="14" y={y - 12}>
        to the anode
      </text>
      <text x={SIZE.width - 14} y={y - 12} textAnchor="end">
        to the anode
      </text>
    </g>
  )
}

type OtherOutline = DistributionInput['circles'][number] | DistributionInput['rectangles'][number]

function Other({ other, place }: { other: OtherOutline; place: Place }) {
  const [x, y] = [place.x(other.xMm), place.y(other.yMm)]
  return (
    <g className={`other ${other.role}`}>
      {'diameterMm' in other ? (
        <circle cx={x} cy={y} r={(other.diameterMm / 2) * place.scale} />
      ) : (
        <rect
          x={x - (other.widthMm / 2) * place.scale}
          y={y - (other.heightMm / 2) * place.scale}
          width={other.widthMm * place.scale}
          height={other.heightMm * place.scale}
        />
      )}
      <text x={x + ('diameterMm' in other ? (other.diameterMm / 2) * place.scale + 6 : 8)} y={y + 4}>
        {other.role}
      </text>
    </g>
  )
}

function Note({
  point,
  place,
  outUm,
  words,
  short,
}: {
  point: CoatPoint
  place: Place
  outUm: number
  words: string
  short: boolean
}) {
  const right = place.x(point.x) + point.out[0] >= SIZE.width / 2
  const tip = [place.x(point.x) + point.out[0] * outUm, place.y(point.y) - point.out[1] * outUm] as const
  const elbowY = tip[1] + (tip[1] < SIZE.height / 2 ? -24 : 24)
  const elbow = [right ? SIZE.width - EDGE.side : EDGE.side, Math.max(18, Math.min(SIZE.height - 18, elbowY))] as const
  const end = right ? elbow[0] + 12 : elbow[0] - 12
  return (
    <g className={short ? 'thickness-note short-note' : 'thickness-note'}>
      <path d={`M${f(tip[0])} ${f(tip[1])}L${f(elbow[0])} ${f(elbow[1])}H${f(end)}`} />
      <circle cx={tip[0]} cy={tip[1]} r="3" />
      <text x={right ? end + 3 : end - 3} y={elbow[1] + 4} textAnchor={right ? 'start' : 'end'}>
        {words}
      </text>
    </g>
  )
}

/** The shades with their thicknesses. */
export function ThicknessLegend({ range: [least, most] }: { range: readonly [number, number] }) {
  return (
    <ol className="shade-legend" aria-label="Shades by thickness">
      {Array.from({ length: SHADES }, (_, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: shades stand in their order
        <li key={k}>
          <i className={`shade-${k}`} aria-hidden="true" />
          <span className="figure">
            {formatNumber(least + ((most - least) * k) / SHADES, 3)}–
            {formatNumber(least + ((most - least) * (k + 1)) / SHADES, 3)}
          </span>
        </li>
      ))}
      <li className="quiet small">µm</li>
    </ol>
  )
}
