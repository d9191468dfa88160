import { formatFixed, formatNumber, formatQuantity } from '@haspwright/engine'
import { useId, useMemo, useRef } from 'react'
import { useWidth } from '../plot/Plot.tsx'
import { ticks } from '../plot/plot-geometry.ts'
import { barBetween, contributionScale, outcomeScale } from './chain-scales.ts'
import { type ChainCase, type ChainOutcome, type Contribution, contributionsOf, outcomeOf } from './chain-view.ts'
import { outcomeWords, sensitivityWords, yieldWords } from './chain-words.ts'
import './chains.css'

const ROW = 30
const BAR = 10
const HEAD = 34
const AXIS = 26
const LINE = 15

/** A chain drawn: each dimension as a bar of what it does to the result, and what all of them come to at each temperature. */
export function ChainDiagram({ title, cases }: { title: string; cases: readonly ChainCase[] }) {
  const place = useRef<HTMLDivElement>(null)
  const width = useWidth(place)
  const id = useId()
  const [first] = cases
  const parts = useMemo(() => (first === undefined ? [] : contributionsOf(first.chain)), [first])
  const outcomes = useMemo(() => cases.map(({ chain }) => outcomeOf(chain)), [cases])
  const columns = columnsOf(width)
  const outcomesTop = HEAD + parts.length * ROW + AXIS + 18
  const height = outcomesTop + cases.length * (3 * LINE + 12) + AXIS
  const words = cases.map((each, i) => outcomeWords(each, outcomes[i])).join(' ')
  return (
    <div ref={place} className="chain-diagram">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-labelledby={`${id}-title ${id}-words`}>
        <title id={`${id}-title`}>{`Chain of ${title}`}</title>
        <desc id={`${id}-words`}>{words}</desc>
        <Contributions parts={parts} columns={columns} />
        <g transform={`translate(0 ${outcomesTop})`}>
          <Outcomes cases={cases} outcomes={outcomes} columns={columns} />
        </g>
      </svg>
    </div>
  )
}

interface Columns {
  readonly name: number
  readonly nominal: readonly [number, number]
  readonly plot: readonly [number, number]
  readonly right: number
  readonly isNarrow: boolean
}

function columnsOf(width: number): Columns {
  const isNarrow = width < 560
  const name = isNarrow ? Math.round(width * 0.36) : 216
  const nominal = isNarrow ? 34 : 64
  const share = isNarrow ? 44 : 190
  return {
    name,
    nominal: [name + 4, name + 4 + nominal],
    plot: [name + nominal + 22, width - share],
    right: width,
    isNarrow,
  }
}

function Contributions({ parts, columns }: { parts: readonly Contribution[]; columns: Columns }) {
  const at = contributionScale(parts, columns.plot)
  const longest = Math.max(1, ...parts.map(({ nominalMm }) => Math.abs(nominalMm)))
  const [nominalFrom, nominalTo] = columns.nominal
  const bottom = HEAD + parts.length * ROW
  return (
    <g>
      <text className="chain-head" x="0" y="12">
        Dimension
      </text>
      <text className="chain-head" x={nominalFrom} y="12">
        {columns.isNarrow ? 'N' : 'nominal'}
      </text>
      <text className="chain-head" x={columns.plot[0]} y="12">
        {columns.isNarrow ? 'what it does, µm' : 'tolerance and process, as it moves the result, µm'}
      </text>
      <text className="chain-head end" x={columns.right} y="12">
        {columns.isNarrow ? 'share' : 'share of the spread'}
      </text>
      <line className="chain-rule" x1="0" x2={columns.right} y1="20" y2="20" />
      <line className="chain-zero" x1={at(0)} x2={at(0)} y1="20" y2={bottom} />
      {parts.map((part, i) => (
        <ContributionRow
          key={part.name}
          part={part}
          top={HEAD - 10 + i * ROW}
          at={at}
          columns={columns}
          nominalPx={(Math.abs(part.nominalMm) / longest) * (nominalTo - nominalFrom)}
        />
      ))}
      <g transform={`translate(0 ${bottom})`}>
        <line className="chain-rule thin" x1={columns.plot[0]} x2={columns.plot[1]} y1="0" y2="0" />
        {ticks(at.domain, 4).map((value) => (
          <g key={value} transform={`translate(${at(value)} 0)`}>
            <line className="chain-rule thin" y1="0" y2="4" />
            <text className="chain-figure" textAnchor="middle" y="16">
              {formatNumber(value * 1000, 4)}
            </text>
          </g>
        ))}
      </g>
    </g>
  )
}

function ContributionRow({
  part: { name, sensitivity, nominalMm, lowMm, highMm, centreMm, sigmaMm, share },
  top,
  at,
  columns,
  nominalPx,
}: {
  part: Contribution
  top: number
  at: ReturnType<typeof contributionScale>
  columns: Columns
  nominalPx: number
}) {
  const middle = top + ROW / 2
  const tolerance = barBetween(at, lowMm, highMm)
  const process = barBetween(at, centreMm - 3 * sigmaMm, centreMm + 3 * sigmaMm)
  const shareRoom = columns.right - columns.plot[1] - 60
  return (
    <g>
      <line className="chain-hair" x1="0" x2={columns.right} y1={top + ROW} y2={top + ROW} />
      <text className={columns.isNarrow ? 'chain-name narrow' : 'chain-name'} x="0" y={middle + 4}>
        {sensitivityWords(sensitivity)} {name}
      </text>
      <text className="chain-figure small" x={columns.nominal[0]} y={middle - 1}>
        {columns.isNarrow ? formatNumber(nominalMm, 3) : formatNumber(nominalMm, 5)}
      </text>
      <rect className="chain-nominal" x={columns.nominal[0]} y={middle + 4} width={nominalPx} height="3" />
      <rect
        className="chain-tolerance"
        x={tolerance.x}
        y={middle - BAR / 2}
        width={Math.max(1, tolerance.width)}
        height={BAR}
      />
      <rect className="chain-process" x={process.x} y={middle - 2} width={Math.max(1, process.width)} height="4" />
      <line
        className="chain-centre"
        x1={at(centreMm)}
        x2={at(centreMm)}
        y1={middle - BAR / 2 - 3}
        y2={middle + BAR / 2 + 3}
      />
      {columns.isNarrow ? null : (
        <rect
          className="chain-share"
          x={columns.plot[1] + 14}
          y={middle - 3}
          width={Math.max(0.5, share * shareRoom)}
          height="6"
        />
      )}
      <text className="chain-figure" textAnchor="end" x={columns.right} y={middle + 4}>
        {formatNumber(share * 100, 2)} %
      </text>
    </g>
  )
}

function Outcomes({
  cases,
  outcomes,
  columns,
}: {
  cases: readonly ChainCase[]
  outcomes: readonly ChainOutcome[]
  columns: Columns
}) {
  const at = outcomeScale(cases, outcomes, [columns.nominal[0], columns.plot[1]])
  const each = 3 * LINE + 12
  const bottom = 8 + cases.length * each
  const limits = [
    ...new Set(
      cases.flatMap(
        ({
          chain: {
            limits: { minMm, maxMm },
          },
        }) => [minMm, maxMm],
      ),
    ),
  ]
  return (
    <g>
      <line className="chain-rule" x1="0" x2={columns.right} y1="0" y2="0" />
      {cases.map((one, i) => {
        const outcome = outcomes[i]
        return outcome === undefined ? null : (
          <g key={one.finding.id} transform={`translate(0 ${8 + i * each})`}>
            <OutcomeRows one={one} outcome={outcome} at={at} columns={columns} />
          </g>
        )
      })}
      {limits.map((limit) =>
        limit === undefined ? null : (
          <line key={limit} className="chain-limit" x1={at(limit)} x2={at(limit)} y1="0" y2={bottom} />
        ),
      )}
      <g transform={`translate(0 ${bottom})`}>
        <line className="chain-rule thin" x1={columns.nominal[0]} x2={columns.plot[1]} y1="0" y2="0" />
        {ticks(at.domain, columns.isNarrow ? 3 : 6).map((value) => (
          <g key={value} transform={`translate(${at(value)} 0)`}>
            <line className="chain-rule thin" y1="0" y2="4" />
            <text className="chain-figure" textAnchor="middle" y="16">
              {formatNumber(value, 4)}
            </text>
          </g>
        ))}
        <text className="chain-head" x="0" y="16">
          the result, mm
        </text>
      </g>
    </g>
  )
}

function OutcomeRows({
  one: { temperatureC, chain },
  outcome: { worstCase, statistical, meanMm, simulated },
  at,
  columns,
}: {
  one: ChainCase
  outcome: ChainOutcome
  at: ReturnType<typeof outcomeScale>
  columns: Columns
}) {
  const { minMm = Number.NEGATIVE_INFINITY, maxMm = Number.POSITIVE_INFINITY } = chain.limits
  const drawn = { minMm: simulated.meanMm - 3 * simulated.sigmaMm, maxMm: simulated.meanMm + 3 * simulated.sigmaMm }
  const rows = [
    { name: 'worst case', band: worstCase, shape: 'chain-tolerance', figure: bandWords(worstCase) },
    { name: '± 3 s', band: statistical, shape: 'chain-process', figure: bandWords(statistical) },
    { name: 'simulated', band: drawn, shape: 'chain-drawn', figure: yieldWords(simulated.yield) },
  ]
  return (
    <g>
      <text className="chain-name strong" x="0" y={LINE - 3}>
        {formatQuantity(temperatureC, '°C')}
      </text>
      {rows.map(({ name, band, shape, figure }, i) => {
        const y = i * LINE + LINE / 2
        const bar = barBetween(at, band.minMm, band.maxMm)
        const isShort = band.minMm < minMm || band.maxMm > maxMm
        const tall = shape === 'chain-tolerance' ? 9 : 5
        return (
          <g key={name}>
            <text className="chain-note" x={columns.name - 4} y={y + 4} textAnchor="end">
              {name}
            </text>
            <rect
              className={`${shape} ${isShort ? 'is-short' : 'is-held'}`}
              x={bar.x}
              y={y - tall / 2}
              width={Math.max(1, bar.width)}
              height={tall}
            />
            {i === 0 ? null : <line className="chain-centre" x1={at(meanMm)} x2={at(meanMm)} y1={y - 6} y2={y + 6} />}
            {columns.isNarrow ? null : (
              <text className="chain-figure" textAnchor="end" x={columns.right} y={y + 4}>
                {figure}
              </text>
            )}
          </g>
        )
      })}
      {columns.isNarrow ? (
        <text className="chain-figure" textAnchor="end" x={columns.right} y={2.5 * LINE + 4}>
          {yieldWords(simulated.yield)}
        </text>
      ) : null}
      <line className="chain-hair" x1="0" x2={columns.right} y1={3 * LINE + 5} y2={3 * LINE + 5} />
    </g>
  )
}

const bandWords = ({ minMm, maxMm }: { minMm: number; maxMm: number }) =>
  `${formatFixed(minMm, 3)} … ${formatFixed(maxMm, 3)}`
