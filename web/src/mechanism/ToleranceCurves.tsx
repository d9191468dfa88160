import { formatNumber, formatQuantity } from '@haspwright/engine'
import { draftAt } from '../fields/draft.ts'
import { LeafField } from '../fields/LeafField.tsx'
import '../fields/fields.css'
import { CURVE_FRAME, curveGeometry } from './curve-geometry.ts'
import { figureAt, rangeOf, rangeWith, TOLERANCES, type Tolerance } from './curves.ts'
import { offWords } from './differs.ts'
import { numberModelAt } from './tolerance-models.ts'
import type { Mechanism } from './use-mechanism.ts'

/** Small drawings of one scale: how often the nearest other key opens, and the own key fails, against each figure alone. */
export function ToleranceCurves({ mechanism }: { mechanism: Mechanism }) {
  return (
    <>
      <p className="small quiet curves-key">
        <i className="key-line other" aria-hidden="true" /> nearest other key ({offWords(mechanism.nearest)}) opens when
        rocked · <i className="key-line own" aria-hidden="true" /> own key fails (shown from 10⁻⁹) ·{' '}
        <i className="key-line target" aria-hidden="true" /> asked at most{' '}
        {formatNumber(mechanism.shown.requirements.interchange.limit)} · ring: today’s figure. Each figure is moved
        alone; the own key has the narrowest window that the tolerances allow, other keys the widest; far from today’s
        another key may be nearer. Arrow up and down change the last decimal.
      </p>
      <div className="curve-grid" aria-busy={!mechanism.areCurvesDrawn}>
        {TOLERANCES.map((tolerance) => (
          <ToleranceCurve key={tolerance.id} tolerance={tolerance} mechanism={mechanism} />
        ))}
      </div>
    </>
  )
}

function ToleranceCurve({ tolerance, mechanism }: { tolerance: Tolerance; mechanism: Mechanism }) {
  const { draft, shown, stored, curves, otherOpens, ownOpens } = mechanism
  const typed = draftAt(draft, tolerance.path)
  const present = figureAt(shown, tolerance)
  const range = rangeWith(rangeOf(stored, tolerance), present)
  const drawn = curveGeometry({
    points: curves?.[tolerance.id] ?? [],
    range,
    present: { at: present, otherOpens, ownFails: 1 - ownOpens },
    target: shown.requirements.interchange.limit,
  })
  const { width, height, left, bottom } = CURVE_FRAME
  return (
    <div className="curve-cell">
      <LeafField
        model={numberModelAt(tolerance.path)}
        draft={typeof typed === 'string' ? typed : ''}
        path={tolerance.path}
        title={tolerance.title}
        brief
      />
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`Interchange against ${tolerance.title.replace(/^[A-Z]/, (first) => first.toLowerCase())}: at ${formatQuantity(present, tolerance.unit)} the nearest other key opens ${formatNumber(otherOpens, 2)}`}
      >
        {drawn.powers.map(({ power, y }) => (
          <g key={power}>
            <path className="grid" d={`M${left} ${y}H${width}`} />
            <text x={left - 5} y={y + 3.5} textAnchor="end">
              {power === 0 ? '1' : formatNumber(10 ** power)}
            </text>
          </g>
        ))}
        <path className="axis" d={`M${left} 4V${height - bottom}H${width}`} />
        <path className="target" d={`M${left} ${drawn.targetY}H${width}`} />
        <path className="curve own" d={drawn.ownPath} />
        <path className="curve other" d={drawn.otherPath} />
        <path className="present-line" d={`M${drawn.present.x} 4V${height - bottom}`} />
        <circle
          className={otherOpens > shown.requirements.interchange.limit ? 'present short-ring' : 'present'}
          cx={drawn.present.x}
          cy={drawn.present.y}
          r={4}
        />
        <text x={left} y={height - 4}>
          {formatNumber(range[0], 3)}
        </text>
        <text x={width - 1} y={height - 4} textAnchor="end">
          {formatQuantity(range[1], tolerance.unit, 3)}
        </text>
      </svg>
    </div>
  )
}
