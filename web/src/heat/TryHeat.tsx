import { useMemo } from 'react'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import type { FieldModel } from '../fields/field-model.ts'
import { type FieldPath, FormContext } from '../fields/form-context.ts'
import { designModel } from '../what-if/figure-places.ts'
import type { WhatIf } from '../what-if/use-what-if.ts'

const TRIED: readonly FieldPath[] = [
  ['shackle', 'steel'],
  ['heat', 'quenchant'],
  ['heat', 'agitation'],
  ['heat', 'temperC'],
  ['heat', 'temperMinutes'],
]

/** The choices that the plots answer to: they are tried like any other figure, and stored only with a revision. */
export function TryHeat({ whatIf }: { whatIf: WhatIf }) {
  // The same places may stand open in the list of figures to try: each form names its own elements.
  const form = useMemo(() => ({ ...whatIf.form, id: `${whatIf.form.id}-heat` }), [whatIf.form])
  return (
    <FormContext value={form}>
      <fieldset className="try-heat screen-only">
        <legend className="label">Try another steel, bath or tempering; nothing is stored</legend>
        <div className="try-heat-fields">
          {TRIED.map((path) => {
            const model = modelAt(designModel, path)
            return model === undefined ? null : (
              <Field key={path.join('.')} model={model} draft={draftAt(whatIf.draft, path)} path={path} />
            )
          })}
        </div>
      </fieldset>
    </FormContext>
  )
}

function modelAt(model: FieldModel, path: FieldPath): FieldModel | undefined {
  return path.reduce<FieldModel | undefined>(
    (inner, step) => (inner?.kind === 'group' ? inner.fields.find(({ name }) => name === step) : undefined),
    model,
  )
}
