import type { AnyCalculation } from '@haspwright/engine'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import { FormContext } from '../fields/form-context.ts'
import type { CalculationPageState } from './use-calculation-page.ts'

/** The form of a calculation, made from its schema; the cases it is checked against fill it in. */
export function CalculationForm({ calculation, page }: { calculation: AnyCalculation; page: CalculationPageState }) {
  const { model, draft, form, calculating, issues } = page
  return (
    <FormContext value={form}>
      <form
        className="form calculation-form"
        noValidate
        onSubmit={(event) => {
          event.preventDefault()
          page.submit()
        }}
      >
        <Examples calculation={calculation} onFill={page.fill} />
        <div className="group-fields">
          {model.kind === 'group'
            ? model.fields.map((field) => (
                <Field key={field.name} model={field} draft={draftAt(draft, [field.name])} path={[field.name]} />
              ))
            : null}
        </div>
        <p className="form-buttons screen-only">
          <button
            type="submit"
            className="button primary"
            disabled={calculating.state === 'running' && calculation.kind === 'long'}
          >
            Calculate
          </button>
          {calculating.state === 'running' && calculation.kind === 'long' ? (
            <button type="button" className="button" onClick={page.cancel}>
              Cancel
            </button>
          ) : (
            <button type="button" className="button" onClick={page.clear}>
              Empty the form
            </button>
          )}
          {page.ready || page.untouched ? null : (
            <span className="small quiet">
              {issues.length === 1 ? 'One field is still open.' : `${issues.length} fields are still open.`}
            </span>
          )}
        </p>
      </form>
    </FormContext>
  )
}

function Examples({ calculation, onFill }: { calculation: AnyCalculation; onFill: (input: unknown) => void }) {
  return (
    <details className="examples screen-only" open={calculation.examples.length <= 4}>
      <summary className="tap">Fill in a case it is checked against</summary>
      <ul>
        {calculation.examples.map(({ title, input }) => (
          <li key={title}>
            <button type="button" className="text-button" onClick={() => onFill(input)}>
              {title}
            </button>
          </li>
        ))}
      </ul>
    </details>
  )
}
