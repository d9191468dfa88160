import {
  answer,
  type Design,
  deposits,
  formatNumber,
  locksOfDesign,
  rinse,
  rinseCase,
  type WorksPlan,
} from '@haspwright/engine'
import { useMemo, useState } from 'react'
import { CalculationLink } from '../evidence/CalculationLink.tsx'
import { Field } from '../fields/Field.tsx'
import { FormContext } from '../fields/form-context.ts'
import { useAnswered } from './use-answered.ts'
import '../plot/plot.css'

/** Taken only where the plan does not know its rinse, common practice (no source). */
const RINSE_ASSUMED = { dragOutLPerH: 2, concentrationGPerL: 75, targetGPerL: 0.02, stages: 2 } as const
const STAGES = [1, 2, 3, 4, 5] as const

/** Fresh water against the number of rinses in counter-flow, after each bath of the coating. */
export function RinsePart({ plan, design }: { plan: WorksPlan; design: Design }) {
  const { layers } = design.coating
  const [chosen, setChosen] = useState(layers[0])
  if (chosen === undefined) return null
  return (
    <section className="finish-part" aria-labelledby="rinse">
      <div className="section-head">
        <h2 id="rinse">Rinse and waste water</h2>
        <small>fresh water that keeps the last rinse clean enough, rinses in counter-flow</small>
      </div>
      <fieldset className="choices screen-only">
        <legend className="label">After</legend>
        {layers.map((layer) => (
          <label key={layer.metal} className="tap">
            <input type="radio" name="rinse-after" checked={chosen === layer} onChange={() => setChosen(layer)} />{' '}
            {deposits[layer.metal].title}
          </label>
        ))}
      </fieldset>
      <RinseAfter key={chosen.metal} plan={plan} design={design} layer={chosen} />
    </section>
  )
}

/** A computed drag-out as a person would type it: four digits, as the plan prints its flow. */
const rounded = (input: { readonly dragOutLPerH: number }) => ({
  ...input,
  dragOutLPerH: Number(input.dragOutLPerH.toPrecision(4)),
})

function RinseAfter({
  plan: { order, works },
  design,
  layer,
}: {
  plan: WorksPlan
  design: Design
  layer: Design['coating']['layers'][number]
}) {
  const planned = useMemo(
    () => rinseCase({ design, works, locks: locksOfDesign(order, design.id) }, layer),
    [design, works, order, layer],
  )
  const asked = useAnswered(rinse, planned.ok ? rounded(planned.input) : RINSE_ASSUMED, 'rinse')
  const { hoursPerDay } = works
  const { input, output, fields, draft, form } = asked
  const flows = useMemo(
    () =>
      STAGES.flatMap((stages) => {
        const result = answer(rinse, { ...(input as object), stages }) // the input of a calculation is an object
        return result.ok ? [{ stages, flow: result.output.flowLPerH }] : []
      }),
    [input],
  )
  const first = flows[0]
  const chosen = Number((input as { stages?: unknown }).stages)
  const dragOut = Number((input as { dragOutLPerH?: unknown }).dragOutLPerH)
  const grams = dragOut * Number((input as { concentrationGPerL?: unknown }).concentrationGPerL)
  return (
    <FormContext value={form}>
      <div className="rinse-columns">
        <div>
          {output === undefined || first === undefined ? (
            <p role="status" className="quiet">
              Not known yet: {asked.issues[0]?.message ?? 'see what is to be mended.'}
            </p>
          ) : (
            <>
              <p className="thickness-sentence">
                <strong>
                  {chosen === 1 ? 'One rinse takes' : `${chosen} rinses take`} {formatNumber(output.flowLPerH, 3)} L/h:
                </strong>{' '}
                {chosen === 1
                  ? 'the most water of all.'
                  : `${formatNumber(first.flow / output.flowLPerH, 2)} times less than a single one.`}{' '}
                {formatNumber((output.flowLPerH * hoursPerDay) / 1000, 3)} m³ of waste water a day with{' '}
                {formatNumber(grams * hoursPerDay, 3)} g of metal in it.
              </p>
              <RinsePlot flows={flows} chosen={chosen} />
              <p className="small quiet">
                Concentration from rinse to rinse:{' '}
                <span className="figure">
                  {output.stageConcentrationsGPerL.map((c) => formatNumber(c, 3)).join(' → ')} g/L
                </span>
              </p>
            </>
          )}
        </div>
        <div className="rack-fields screen-only">
          {fields.map((field) => (
            <Field key={field.name} model={field} draft={draft[field.name]} path={[field.name]} />
          ))}
          {planned.ok ? (
            <p className="small quiet">
              Drag-out of the order’s racks while they pass the line; bath, rinses and cleanness as the works file
              states them.
            </p>
          ) : (
            <p className="small quiet not-stated">
              {planned.because} Drag-out, concentration and cleanness are assumed, common practice (no source).
            </p>
          )}
        </div>
      </div>
      {output === undefined ? null : <CalculationLink id="finish.rinse" input={input} />}
    </FormContext>
  )
}

const SIZE = { width: 620, row: 34, left: 84, right: 96, top: 8, bottom: 42 } as const

/** Flow by number of rinses, on a scale of powers of ten. */
function RinsePlot({ flows, chosen }: { flows: readonly { stages: number; flow: number }[]; chosen: number }) {
  const [most, least] = [Math.max(...flows.map(({ flow }) => flow)), Math.min(...flows.map(({ flow }) => flow))]
  const low = Math.floor(Math.log10(least))
  const high = Math.max(low + 1, Math.ceil(Math.log10(most)))
  const x = (flow: number) =>
    SIZE.left + ((Math.log10(flow) - low) / (high - low)) * (SIZE.width - SIZE.left - SIZE.right)
  const bottom = SIZE.top + flows.length * SIZE.row
  return (
    <div className="plot">
      <svg viewBox={`0 0 ${SIZE.width} ${bottom + SIZE.bottom}`} role="img" aria-labelledby="rinse-title rinse-words">
        <title id="rinse-title">Fresh water by number of rinses</title>
        <desc id="rinse-words">
          {flows.map(({ stages, flow }) => `${stages}: ${formatNumber(flow, 3)} L/h`).join(', ')}
        </desc>
        <g className="plot-grid">
          {Array.from({ length: high - low + 1 }, (_, k) => 10 ** (low + k)).map((flow) => (
            <g key={flow}>
              <line x1={x(flow)} x2={x(flow)} y1={SIZE.top} y2={bottom} />
              <text x={x(flow)} y={bottom + 16} textAnchor="middle">
                {formatNumber(flow)}
              </text>
            </g>
          ))}
          <path className="plot-axis" d={`M${SIZE.left} ${SIZE.top}V${bottom}H${SIZE.width - SIZE.right}`} />
          <text className="plot-unit" x={SIZE.width - SIZE.right} y={bottom + 36} textAnchor="end">
            fresh water, L/h, powers of ten
          </text>
        </g>
        {flows.map(({ stages, flow }, k) => {
          const y = SIZE.top + (k + 0.5) * SIZE.row
          return (
            <g key={stages} className={stages === chosen ? 'rinse-row chosen-row' : 'rinse-row'}>
              <text x={SIZE.left - 10} y={y} dy="0.35em" textAnchor="end">
                {stages === 1 ? '1 rinse' : `${stages} rinses`}
              </text>
              <line x1={SIZE.left} x2={x(flow)} y1={y} y2={y} />
              <circle cx={x(flow)} cy={y} r={stages === chosen ? 6 : 4} />
              <text x={x(flow) + 12} y={y} dy="0.35em">
                {formatNumber(flow, 3)}
              </text>
            </g>
          )
        })}
      </svg>
    </div>
  )
}
