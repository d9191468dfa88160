import { type Design, formatFixed, formatNumber } from '@haspwright/engine'
import { useState } from 'react'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import type { FieldModel } from '../fields/field-model.ts'
import { FormContext } from '../fields/form-context.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import type { HeatView } from './heat-view.ts'
import { certificateModel } from './own-analysis.ts'
import type { useOwnAnalysis } from './use-own-analysis.ts'

const certificateFields: readonly FieldModel[] = certificateModel.kind === 'group' ? certificateModel.fields : []

/** The analysis that everything below rests on: the middle of the steel's range, or that of the bar at hand. */
export function OwnAnalysisPart({
  design,
  own,
  view,
}: {
  design: Design
  own: ReturnType<typeof useOwnAnalysis>
  view: HeatView | undefined
}) {
  const { draft, form, result, paste, pasted, reset } = own
  const { steel } = design.shackle
  return (
    <section className="sheet-part heat-part" aria-labelledby="heat-analysis">
      <h3 id="heat-analysis">Analysis and transformation temperatures</h3>
      <p className="plot-words" role="status">
        {basisWords(result, steel)}
      </p>
      {result.own === undefined ? null : (
        <p className="figure analysis-line">
          {Object.entries(result.own.analysis)
            .filter((entry): entry is [string, number] => entry[1] !== undefined)
            .map(([element, percent]) => `${element} ${formatNumber(percent)}`)
            .join('  ')}{' '}
          %
        </p>
      )}
      {view === undefined ? null : <Points view={view} />}
      <details className="screen-only" open={!result.empty || undefined}>
        <summary className="label tap">Use the analysis of the bar's own heat</summary>
        <Paste onPaste={paste} />
        {pasted === undefined ? null : (
          <p role="status" className="small">
            Taken over: {Object.keys(pasted.values).join(', ') || 'nothing'}.
            {pasted.unread.length === 0 ? '' : ` Not understood, and left out: ${pasted.unread.join(', ')}.`}
          </p>
        )}
        <FormContext value={form}>
          <div className="certificate">
            {certificateFields.map((model) => (
              <Field key={model.name} model={model} draft={draftAt(draft, [model.name])} path={[model.name]} />
            ))}
          </div>
        </FormContext>
        <p>
          <button type="button" className="button" disabled={result.empty} onClick={reset}>
            Back to the middle of the range
          </button>
        </p>
      </details>
      {result.issues.length === 0 ? null : (
        <IssueList issues={result.issues} title={`The certificate does not fit ${steel}`} />
      )}
    </section>
  )
}

function basisWords({ empty, own, outside }: ReturnType<typeof useOwnAnalysis>['result'], steel: string): string {
  if (empty)
    return `Middle of the range of ${steel}; the band of the section runs from the leanest to the richest analysis that the limits allow.`
  if (own === undefined)
    return `The analysis is not complete: everything below still rests on the middle of the range of ${steel}.`
  return outside
    ? `The bar's own analysis, which is not ${steel}: everything below follows it, but do not use the bar before this is settled.`
    : "The bar's own analysis; dashed lines keep the middle of the range. How much softer or harder this heat tempers than the card's is not known."
}

function Points({ view: { shown, middle } }: { view: HeatView }) {
  if (!shown.points.ok) return <p>Transformation temperatures not known yet: {shown.points.because}</p>
  const { output, notices } = shown.points
  const was = middle?.points.ok ? middle.points.output : undefined
  return (
    <>
      <dl className="facts">
        {(
          [
            ['Ac1', output.ac1C, was?.ac1C],
            ['Ac3', output.ac3C, was?.ac3C],
            ['Ms, Andrews', output.msC, was?.msC],
            ['Ms, Steven and Haynes', output.msStevenHaynesC, was?.msStevenHaynesC],
          ] as const
        ).map(([name, value, middleValue]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd className="figure">
              {formatFixed(value, 0)} °C
              {middleValue === undefined ? '' : <small className="quiet"> middle {formatFixed(middleValue, 0)}</small>}
            </dd>
          </div>
        ))}
      </dl>
      <NoticeList notices={notices} />
    </>
  )
}

function Paste({ onPaste }: { onPaste: (text: string) => void }) {
  const [text, setText] = useState('')
  return (
    <div className="certificate-paste">
      <label htmlFor="certificate-text" className="label">
        Paste from the certificate
      </label>
      <textarea
        id="certificate-text"
        rows={2}
        spellCheck={false}
        value={text}
        aria-describedby="certificate-hint"
        onChange={(event) => setText(event.target.value)}
      />
      <p id="certificate-hint" className="hint">
        C 0.41 Si 0.27 Mn 0.78 …, or a row of elements over a row of figures, in percent
      </p>
      <button type="button" className="button" disabled={text.trim() === ''} onClick={() => onPaste(text)}>
        Take over
      </button>
    </div>
  )
}
