import { type BarHeat, type Composition, type Design, formatFixed, formatNumber } from '@haspwright/engine'
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

/** Heats in stock of the shackle's bar, and the one whose figures are shown. */
interface Stock {
  readonly heats: readonly BarHeat[]
  readonly shown: BarHeat | undefined
  readonly choose: (number: string) => void
}

/** The analysis that everything below rests on: one typed here, else a heat in stock, else the middle of the steel's range. */
export function OwnAnalysisPart({
  design,
  own,
  view,
  stock,
}: {
  design: Design
  own: ReturnType<typeof useOwnAnalysis>
  view: HeatView | undefined
  stock: Stock
}) {
  const { draft, form, result, paste, pasted, reset } = own
  const { steel } = design.shackle
  return (
    <section className="sheet-part heat-part" aria-labelledby="heat-analysis">
      <h3 id="heat-analysis">Analysis and transformation temperatures</h3>
      <p className="plot-words" role="status">
        {basisWords(result, steel, stock)}
      </p>
      {result.empty && stock.heats.length > 1 ? <HeatChoice stock={stock} /> : null}
      <AnalysisLine analysis={result.own?.analysis ?? stock.shown?.analysis} />
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
            {stock.shown === undefined ? 'Back to the middle of the range' : `Back to heat ${stock.shown.number}`}
          </button>
        </p>
      </details>
      {result.issues.length === 0 ? null : (
        <IssueList issues={result.issues} title={`The certificate does not fit ${steel}`} />
      )}
    </section>
  )
}

/** Which of several heats in stock is shown; the plan judges them all. */
function HeatChoice({ stock: { heats, shown, choose } }: { stock: Stock }) {
  return (
    <fieldset className="record-kind screen-only">
      <legend className="label">Heats in stock; the margins are those of the heat that goes worst</legend>
      {heats.map(({ number }) => (
        <label key={number} className="tap">
          <input type="radio" name="heat" checked={number === shown?.number} onChange={() => choose(number)} /> {number}
        </label>
      ))}
    </fieldset>
  )
}

function AnalysisLine({ analysis }: { analysis: Composition | undefined }) {
  if (analysis === undefined) return null
  return (
    <p className="figure analysis-line">
      {Object.entries(analysis)
        .filter((entry): entry is [string, number] => entry[1] !== undefined)
        .map(([element, percent]) => `${element} ${formatNumber(percent)}`)
        .join('  ')}{' '}
      %
    </p>
  )
}

const FROM_THE_HEAT =
  "dashed lines keep the middle of the range. How much softer or harder this heat tempers than the card's is not known."

function basisWords(
  { empty, own, outside }: ReturnType<typeof useOwnAnalysis>['result'],
  steel: string,
  { shown }: Stock,
): string {
  const fallback =
    shown === undefined ? `the middle of the range of ${steel}` : `heat ${shown.number} in the stock of the works`
  if (empty)
    return shown === undefined
      ? `Middle of the range of ${steel}; the band of the section runs from the leanest to the richest analysis that the limits allow.`
      : `Heat ${shown.number} in the stock of the works, by its certificate; ${FROM_THE_HEAT}`
  if (own === undefined) return `The analysis is not complete: everything below still rests on ${fallback}.`
  return outside
    ? `The bar's own analysis, which is not ${steel}: everything below follows it, but do not use the bar before this is settled.`
    : `The bar's own analysis; ${FROM_THE_HEAT}`
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
            ['Ac1, Andrews', output.ac1C, was?.ac1C],
            ['Ac1, Grange', output.ac1GrangeC, was?.ac1GrangeC],
            ['Ac3, Andrews', output.ac3C, was?.ac3C],
            ['Ac3, Grange', output.ac3GrangeC, was?.ac3GrangeC],
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
      <p className="small quiet">
        Spread of two published formulas: Ac1 {formatFixed(output.ac1SpreadC, 0)} K, Ac3{' '}
        {formatFixed(output.ac3SpreadC, 0)} K, Ms {formatFixed(output.msSpreadC, 0)} K.
      </p>
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
