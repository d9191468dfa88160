import { type CodeShape, calculationById, type Issue, read } from '@haspwright/engine'
import { type Ref, useMemo, useState } from 'react'
import { type Draft, draftAt, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import { inputModel } from '../fields/field-model.ts'
import { type Form, FormContext, useIssuesByPath } from '../fields/form-context.ts'
import { codesWords, percentWords } from '../mechanism/figure-words.ts'
import { IssueList } from '../sheet/IssueList.tsx'
import { RuleCostTable } from './RuleCostTable.tsx'
import { shareOf } from './rule-costs.ts'
import { useRuleCosts } from './use-rule-costs.ts'

const NO_ISSUES: readonly Issue[] = []
const START: CodeShape = { discs: 7, values: 6, rules: { maxSameInRow: 2, minDistinct: 3 } }
const found = calculationById('codes.space')
if (found === undefined) throw new Error('The codes of a mechanism cannot be counted.')
const space = found
const model = inputModel(space)

/** A form for discs, values and rules: the codes that are left, and what each rule takes, follow as one types. */
export function TryRules({
  start,
  ref,
}: {
  start: { shape: CodeShape; from: string } | undefined
  ref: Ref<HTMLElement>
}) {
  const [draft, setDraft] = useState<Draft>(() => draftOf(model, start?.shape ?? START))
  const reading = useMemo(() => read(space.input, valueFrom(model, draft)), [draft])
  // The schema of codes.space reads a code shape; calculations of the list have lost their types.
  const shape = useMemo(() => (reading.ok ? (reading.value as unknown as CodeShape) : undefined), [reading])
  const { costs, isCounted, fault } = useRuleCosts(shape)
  const issues = reading.ok ? NO_ISSUES : reading.issues
  const refused = isCounted && costs?.ok === false ? costs.issues : NO_ISSUES
  const issuesAt = useIssuesByPath(issues.length > 0 ? issues : refused)
  const form: Form = useMemo(
    () => ({ id: 'try-rules', change: (path, value) => setDraft((was) => setAt(was, path, value)), issuesAt }),
    [issuesAt],
  )
  return (
    <section ref={ref} tabIndex={-1} className="try-rules" aria-labelledby="try-rules">
      <div className="section-head">
        <h2 id="try-rules">Try rules</h2>
        <small>
          {start === undefined ? 'Nothing is stored.' : `From design ${start.from}. Nothing is stored.`} Other rules are
          another code space, numbered anew.
        </small>
      </div>
      <div className="try-columns">
        <FormContext value={form}>
          <form className="form" noValidate aria-label="Rules to try" onSubmit={(event) => event.preventDefault()}>
            <div className="group-fields">
              {model.kind === 'group'
                ? model.fields.map((field) => (
                    <Field key={field.name} model={field} draft={draftAt(draft, [field.name])} path={[field.name]} />
                  ))
                : null}
            </div>
          </form>
        </FormContext>
        <div aria-live="polite">
          {fault === undefined ? null : <p className="short">The codes could not be counted: {fault}</p>}
          {refused.length > 0 ? <IssueList issues={refused} title="These rules cannot be counted" /> : null}
          {costs?.ok === true ? (
            <>
              <dl className="figure-row">
                <div className="figure-cell">
                  <dt className="label quiet">Codes in all</dt>
                  <dd className="figure-value">{codesWords(costs.total)}</dd>
                </div>
                <div className="figure-cell" data-waiting={!isCounted || undefined}>
                  <dt className="label quiet">Usable under these rules</dt>
                  <dd className="figure-value">{codesWords(costs.usable)}</dd>
                  <dd className="small quiet">{percentWords(shareOf(costs.usable, costs.total))} of all</dd>
                </div>
              </dl>
              <RuleCostTable costs={costs} />
            </>
          ) : null}
        </div>
      </div>
    </section>
  )
}
