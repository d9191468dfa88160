import { type Design, formatMinutes, formatNumber, type Works } from '@haspwright/engine'
import { Button, DropZone, type FileDropItem, FileTrigger } from 'react-aria-components'
import { Field } from '../fields/Field.tsx'
import { FormContext } from '../fields/form-context.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { CyclePlot, type Overlay } from './CyclePlot.tsx'
import { cycleSentence } from './cycle-words.ts'
import { type Cycle, furnaceCycle, recipeStart } from './furnace-cycle.ts'
import { type HardeningWindow, RECORD_KINDS } from './heat-inputs.ts'
import type { HeatView } from './heat-view.ts'
import { RecordVerdict } from './RecordVerdict.tsx'
import { type FurnaceRecord, recipeModel, useFurnaceRecord } from './use-furnace-record.ts'

/** The furnace cycle as planned, and a record of the furnace laid over it and judged. */
export function FurnacePart({ view, design, works }: { view: HeatView; design: Design; works: Works }) {
  const { window, heating, temperHeating } = view
  return (
    <section className="sheet-part heat-part" aria-labelledby="heat-cycle">
      <h3 id="heat-cycle">Furnace cycle</h3>
      {window.ok && heating.ok && temperHeating.ok ? (
        <Planned
          design={design}
          window={window.output}
          cycle={furnaceCycle(design, window.output, {
            heatUpMinutes: heating.output.minutes,
            temperHeatUpMinutes: temperHeating.output.minutes,
            works,
          })}
        />
      ) : (
        <p>
          Not known yet: {[window, heating, temperHeating].map((known) => (known.ok ? '' : known.because)).join(' ')}
        </p>
      )}
    </section>
  )
}

function Planned({ design, window, cycle }: { design: Design; window: HardeningWindow; cycle: Cycle }) {
  const record = useFurnaceRecord(design, window)
  return (
    <>
      <CyclePlot cycle={cycle} overlay={overlayOf(record, cycle)} />
      <p className="small plot-words">
        {cycleSentence(cycle)} Heating counts until the core of one free shackle is hot; the fullest basket takes
        longer.
        {cycle.restMinutes < 0
          ? ` The works states ${formatMinutes(-cycle.restMinutes)} less for heating, quench, wash and change than heating alone takes.`
          : ' Dashed: wash and change, whose course nobody sets.'}
        {record.answer?.ok === true
          ? ' The recipe is laid so that its soak begins where the longest unbroken time at temperature of the record begins.'
          : ''}
      </p>
      <RecordPart record={record} />
    </>
  )
}

function overlayOf({ answer, judged, kind, recipe }: FurnaceRecord, cycle: Cycle): Overlay | undefined {
  if (answer?.ok !== true) return undefined
  const out = judged?.ok ? judged.output : undefined
  const { fromMinute, toMinute } = out ?? {}
  return {
    lines: answer.lines,
    window: recipe,
    recipeStart: recipeStart(cycle, kind === 'hardening' ? 'Soak' : 'Temper', fromMinute),
    held: fromMinute === undefined || toMinute === undefined ? undefined : { fromMinute, toMinute },
    words: `Laid over it a record of ${answer.lines.length} couples over ${formatNumber(answer.minutes)} min${out === undefined ? '' : `, ${out.verdict}`}.`,
  }
}

function RecordPart({ record }: { record: FurnaceRecord }) {
  const { name, take, forget, answer, refused, isReading, fault } = record
  return (
    <>
      <DropZone
        className="record-drop screen-only"
        aria-label="Hold a furnace record against the recipe"
        onDrop={(event) => {
          const file = event.items.find((item): item is FileDropItem => item.kind === 'file')
          if (file !== undefined) void file.getFile().then(take)
        }}
      >
        <FileTrigger
          acceptedFileTypes={['text/csv', 'text/plain', '.csv', '.txt', '.log']}
          onSelect={(files) => {
            const file = files?.[0]
            if (file !== undefined) void take(file)
          }}
        >
          <Button className="button">Choose a furnace record</Button>
        </FileTrigger>
        <span className="quiet small">
          or drop it here: CSV, a time and a temperature for each couple. It is read in this browser and not stored;
          print the sheet to keep its verdict.
        </span>
        {name === undefined && refused.length === 0 ? null : (
          <button type="button" className="text-button small" onClick={forget}>
            Take the record away
          </button>
        )}
      </DropZone>
      <p role="status" className="small quiet">
        {isReading ? 'Reading the record …' : ''}
      </p>
      {fault === null ? null : (
        <p role="alert" className="short">
          The record could not be worked out, which is not your fault: {fault.message}
        </p>
      )}
      {refused.length === 0 ? null : (
        <IssueList
          issues={refused}
          title={
            refused.length === 1
              ? 'One thing in the record cannot be read; nothing was judged'
              : `${refused.length} things in the record cannot be read; nothing was judged`
          }
        />
      )}
      {answer?.ok === true ? (
        <>
          <RecordVerdict name={name ?? ''} answer={answer} />
          <Limits record={record} couples={answer.lines.map(({ couple }) => couple)} />
        </>
      ) : null}
    </>
  )
}

/** What the record is held against: from the plan, and open to be changed. */
function Limits({ record, couples }: { record: FurnaceRecord; couples: readonly string[] }) {
  const { kind, setKind, draft, form, isTyped, resetRecipe, recipeIssues } = record
  return (
    <details className="record-limits screen-only" open={recipeIssues.length > 0 || undefined}>
      <summary className="label tap">Limits the record is held against</summary>
      <fieldset className="record-kind">
        <legend className="label">The record is of</legend>
        {RECORD_KINDS.map((each) => (
          <label key={each} className="tap">
            <input type="radio" name="record-kind" checked={kind === each} onChange={() => setKind(each)} /> {each}
          </label>
        ))}
      </fieldset>
      <p className="small quiet">
        Temperatures and times are the plan's. The windows of tempering, the spread, the overshoot and the gap between
        readings are common practice (no source): set the works' own. Couples of this record: {couples.join(', ')}.
      </p>
      <FormContext value={form}>
        <Field model={recipeModel} draft={draft} path={['recipe']} />
      </FormContext>
      {isTyped ? (
        <button type="button" className="text-button small" onClick={resetRecipe}>
          Back to the plan's limits
        </button>
      ) : null}
      <NoticeList notices={recipeIssues.map(({ message }) => message)} title="Not judged yet" />
    </details>
  )
}
