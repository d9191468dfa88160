import { type AnyCalculation, isPublished } from '@haspwright/engine'
import { fieldModel, type Schema } from '../fields/field-model.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { TitleBlock } from '../sheet/TitleBlock.tsx'
import { Working } from '../sheet/Working.tsx'
import { ResultValue } from './ResultValue.tsx'
import type { CalculationPageState } from './use-calculation-page.ts'

/** What came out: figures with units, notices, the formula with the numbers put in. */
export function ResultSheet({ calculation, page }: { calculation: AnyCalculation; page: CalculationPageState }) {
  const { calculating, ready, issues, shown } = page
  const { answer } = calculating
  const model = fieldModel(calculation.output as Schema)
  const stale = calculating.state === 'running' || !ready
  return (
    <section className="result-sheet" aria-labelledby="result" aria-busy={calculating.state === 'running'}>
      <h2 id="result">Result</h2>
      <div role="status" className="result-status small quiet">
        {statusWords(page, calculation)}
      </div>
      {calculating.progress === undefined || calculating.state !== 'running' ? null : (
        <progress value={calculating.progress.share} aria-label={calculating.progress.doing} />
      )}
      {calculating.state === 'fault' ? (
        <p className="short" role="alert">
          A fault of ours, not yours. Your figures stay as they are. For the report: {calculating.fault}
        </p>
      ) : null}
      {answer?.ok === false && ready ? <IssueList issues={issues} title="This cannot be answered" /> : null}
      {!ready && shown.length > 0 && calculating.answer === undefined ? (
        <p className="small">Mend the marked fields; the result follows by itself.</p>
      ) : null}
      {answer?.ok === true ? (
        <div className={stale ? 'result-body stale' : 'result-body'}>
          <ResultValue model={model} value={answer.output} />
          <NoticeList notices={answer.notices} />
          {calculation.secret ? null : (
            <>
              <h3>Working</h3>
              <Working working={answer.working} />
            </>
          )}
        </div>
      ) : null}
      <TitleBlock
        cells={[
          ['calculation', calculation.id],
          ['checked against', checkedWords(calculation)],
        ]}
      />
    </section>
  )
}

function checkedWords({ examples }: AnyCalculation): string {
  const published = examples.filter(({ source }) => isPublished(source)).length
  const cases = `${examples.length} ${examples.length === 1 ? 'case' : 'cases'}`
  return published === examples.length ? `${cases}, published` : `${cases}, ${published} published`
}

function statusWords({ calculating, ready, untouched }: CalculationPageState, { kind }: AnyCalculation): string {
  if (calculating.state === 'running' && kind === 'long') return calculating.progress?.doing ?? 'Working …'
  if (untouched) return 'Put in figures, or take one of the cases it is checked against.'
  if (!ready)
    return calculating.answer === undefined
      ? 'Not all fields are filled in yet.'
      : 'The figures have changed and are not complete; this is the last result.'
  if (calculating.state === 'idle' && kind === 'long') return 'Press Calculate; it may take a while.'
  return ''
}
