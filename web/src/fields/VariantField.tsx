import type { ReactNode } from 'react'
import { ChildField } from './ChildField.tsx'
import { type Draft, draftAt, VARIANT, variantDraft } from './draft.ts'
import type { VariantModel } from './field-model.ts'
import { elementId, type FieldPath, useForm } from './form-context.ts'
import { IssueLines } from './IssueLines.tsx'

/** One of a few forms: choosing another shows its fields. */
export function VariantField({
  model,
  draft,
  path,
  leaveOut,
}: {
  model: VariantModel
  draft: Draft
  path: FieldPath
  leaveOut?: ReactNode
}) {
  const form = useForm()
  const id = elementId(form, path, '-variant')
  const chosen = draftAt(draft, [model.tag ?? VARIANT]) ?? draftAt(draft, [VARIANT])
  const variant = model.variants.find(({ value }) => value === chosen)
  return (
    <fieldset className="branch variant">
      <legend>
        {model.title} {leaveOut}
      </legend>
      <div className="field">
        <label htmlFor={id}>Kind</label>
        <span className="entry">
          <select
            id={id}
            value={typeof chosen === 'string' ? chosen : ''}
            onChange={(event) => form.change(path, variantDraft(model, event.target.value))}
          >
            {model.variants.map(({ value, title }) => (
              <option key={value} value={value}>
                {title}
              </option>
            ))}
          </select>
        </span>
      </div>
      {variant === undefined ? null : variant.field.kind === 'group' ? (
        <div className="group-fields">
          {variant.field.fields
            .filter(({ name }) => name !== model.tag)
            .map((field) => (
              <ChildField
                key={field.name}
                model={field}
                draft={draftAt(draft, [field.name])}
                path={[...path, field.name]}
              />
            ))}
        </div>
      ) : (
        <ChildField model={variant.field} draft={draftAt(draft, ['value'])} path={path} />
      )}
      <IssueLines issues={form.issuesAt(path)} />
    </fieldset>
  )
}
