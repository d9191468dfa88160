import {
  type Design,
  type Finding,
  formatMinutes,
  formatNumber,
  PLATED_PARTS,
  SPREAD_ASSUMES,
  type Works,
} from '@haspwright/engine'
import { CalculationLink } from '../evidence/CalculationLink.tsx'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import { FormContext } from '../fields/form-context.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { ThicknessFigure, ThicknessLegend } from './ThicknessFigure.tsx'
import { AIDS } from './thickness-section.ts'
import { rackFields, type Thickness, useThickness } from './use-thickness.ts'

const AID_WORDS = {
  none: 'as racked',
  thieves: 'thief rods at both ends',
  shields: 'shields before the edges',
} as const

/** Thickness of the nickel over the part's outline: where it is thinnest, what that costs, and what evens it out. */
export function ThicknessPart({
  design,
  works,
  finding,
}: {
  design: Design
  works: Works
  finding: Finding | undefined
}) {
  const thickness = useThickness(design, works, finding)
  const { part, setPart, aid, setAid, asked, coats, input, leastUm, meanUm, form, issues } = thickness
  const output = asked.output
  return (
    <FormContext value={form}>
      <section className="finish-part" aria-labelledby="thickness" aria-busy={asked.isWorking}>
        <div className="section-head">
          <h2 id="thickness">Nickel over the outline</h2>
          <small>
            {asked.isWorking ? (
              <>
                Solving the field in the bath …{' '}
                <button type="button" className="text-button" onClick={asked.cancel}>
                  Stop it
                </button>
              </>
            ) : (
              'cut across one place of the rack; coat drawn far too thick'
            )}
          </small>
        </div>
        <div className="thickness-columns">
          <figure className="thickness-figure">
            {output === undefined || input === undefined || leastUm === undefined || meanUm === undefined ? (
              <p role="status" className="quiet">
                {issues.length > 0 ? 'Not drawn: see what is to be mended.' : 'Working out the spread …'}
              </p>
            ) : (
              <>
                <ThicknessFigure coats={coats} input={input} leastUm={leastUm} words={thicknessWords(thickness)} />
                <ThicknessLegend range={[output.thinnestToMean * meanUm, output.thickestToMean * meanUm]} />
                <figcaption className="small quiet">
                  Dashed: the {formatNumber(leastUm, 3)} µm asked for at the thinnest spot. Hatched: does not reach it.
                </figcaption>
              </>
            )}
          </figure>
          <div className="thickness-side">
            <fieldset className="choices screen-only">
              <legend className="label">Part</legend>
              {PLATED_PARTS.map((each) => (
                <label key={each} className="tap">
                  <input type="radio" name="part" checked={part === each} onChange={() => setPart(each)} /> {each}
                </label>
              ))}
            </fieldset>
            <fieldset className="choices screen-only">
              <legend className="label">What if</legend>
              {AIDS.map((each) => (
                <label key={each} className="tap">
                  <input type="radio" name="aid" checked={aid === each} onChange={() => setAid(each)} />{' '}
                  {AID_WORDS[each]}
                </label>
              ))}
            </fieldset>
            <ThicknessFacts thickness={thickness} design={design} />
            <div className="rack-fields screen-only">
              {rackFields.map((field) => (
                <Field
                  key={field.name}
                  model={field}
                  draft={draftAt(thickness.draft, [field.name])}
                  path={[field.name]}
                />
              ))}
            </div>
            <p className={thickness.bathFrom === undefined ? 'small quiet not-stated' : 'small quiet'}>
              {thickness.bathFrom === undefined
                ? 'The works file does not describe the nickel bath: tank, pitch of the rack, conductivity and polarization are assumed, common practice (no source).'
                : `Tank, pitch of the rack and bath as the works file states them (${thickness.bathFrom}).`}{' '}
              {SPREAD_ASSUMES}
              {aid === 'none' ? '' : ' Size and place of thieves and shields are assumed.'}
            </p>
          </div>
        </div>
        {issues.length === 0 ? null : <IssueList issues={issues.slice(0, 6)} title="The spread cannot be worked out" />}
        {asked.fault === undefined ? null : (
          <p role="alert" className="short">
            The spread could not be worked out, which is not your fault: {asked.fault}
          </p>
        )}
        <NoticeList notices={asked.notices} />
        {asked.answered === undefined ? null : (
          <CalculationLink id="finish.current-distribution" input={asked.answered} />
        )}
      </section>
    </FormContext>
  )
}

function ThicknessFacts({
  thickness: { asked, meanUm, leastUm, longer, aid, plannedUm },
  design,
}: {
  thickness: Thickness
  design: Design
}) {
  const { output } = asked
  if (output === undefined || meanUm === undefined || leastUm === undefined) return null
  const thinUm = output.thinnestToMean * meanUm
  const measured = design.coating.thinnestToMean
  return (
    <>
      <p className="thickness-sentence" data-verdict={thinUm >= leastUm ? 'holds' : 'falls-short'}>
        <strong>
          {thinUm >= leastUm ? 'Computed, the thinnest spot holds:' : 'Computed, the thinnest spot falls short:'}
        </strong>{' '}
        {formatNumber(thinUm, 3)} µm where {formatNumber(leastUm, 3)} µm are asked for, mean {formatNumber(meanUm, 3)}{' '}
        µm.
      </p>
      {measured === undefined || plannedUm === undefined ? null : (
        <p className="small">
          The plan goes by the ratio measured on earlier loads, {formatNumber(measured, 3)}:{' '}
          <span className="figure">{formatNumber(plannedUm, 4)} µm</span>,{' '}
          {plannedUm >= leastUm ? 'which holds' : 'which falls short'}.
        </p>
      )}
      <dl className="facts-column">
        <div>
          <dt>Thinnest over mean</dt>
          <dd>
            <span className="figure">{formatNumber(output.thinnestToMean, 3)}</span>{' '}
            <small className="quiet">
              {measured === undefined ? 'computed' : `computed; measured on earlier loads ${formatNumber(measured, 3)}`}
            </small>
          </dd>
        </div>
        <div>
          <dt>Thickest over mean</dt>
          <dd>
            <span className="figure">{formatNumber(output.thickestToMean, 3)}</span>
          </dd>
        </div>
        {longer?.neededMinutes === undefined || longer.minutes === undefined ? null : (
          <div>
            <dt>Time for the thinnest spot</dt>
            <dd>
              <span className="figure">{formatMinutes(longer.neededMinutes)}</span>{' '}
              <small className="quiet">
                instead of {formatMinutes(longer.minutes)}: mean {formatNumber(longer.neededUm, 3)} µm,{' '}
                {longer.neededMinutes > longer.minutes
                  ? `${formatNumber(100 * (longer.neededMinutes / longer.minutes - 1), 2)} % longer`
                  : `${formatNumber(100 * (1 - longer.neededMinutes / longer.minutes), 2)} % could be saved`}
              </small>
            </dd>
          </div>
        )}
        {aid !== 'thieves' ? null : (
          <div>
            <dt>Goes to the thieves</dt>
            <dd>
              <span className="figure">{formatNumber(output.toThievesPercent, 2)} %</span>{' '}
              <small className="quiet">of current and nickel</small>
            </dd>
          </div>
        )}
        <div>
          <dt>Wagner number</dt>
          <dd>
            <span className="figure">{formatNumber(output.wagnerNumber, 2)}</span>{' '}
            <small className="quiet">
              moved by {formatNumber(output.refinementChange, 2)} when the panels were halved
            </small>
          </dd>
        </div>
      </dl>
    </>
  )
}

function thicknessWords({ asked, meanUm = 0, leastUm = 0, part, aid }: Thickness): string {
  if (asked.output === undefined) return ''
  const { thinnestToMean, thickestToMean } = asked.output
  return `The ${part} cut across, ${AID_WORDS[aid]}: thinnest ${formatNumber(thinnestToMean * meanUm, 3)} µm, thickest ${formatNumber(thickestToMean * meanUm, 3)} µm, mean ${formatNumber(meanUm, 3)} µm; asked for at least ${formatNumber(leastUm, 3)} µm.`
}
