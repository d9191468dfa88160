import type { ReactNode } from 'react'
import { ChildField } from './ChildField.tsx'
import { type Draft, draftAt } from './draft.ts'
import type { FieldModel, GroupModel, NumberModel } from './field-model.ts'
import { type FieldPath, useForm } from './form-context.ts'
import { IssueLines } from './IssueLines.tsx'
import { LeafField } from './LeafField.tsx'

/** Fields that belong together. Figures of one unit, such as a size with its deviations, stand on one line. */
export function GroupField({
  model,
  draft,
  path,
  leaveOut,
}: {
  model: GroupModel
  draft: Draft
  path: FieldPath
  leaveOut?: ReactNode
}) {
  const form = useForm()
  const figures = figuresOfOneUnit(model.fields)
  return (
    <fieldset className={figures === undefined ? 'branch group' : 'branch group on-a-line'}>
      <legend>
        {model.title} {leaveOut}
      </legend>
      <div className="group-fields">
        {figures === undefined
          ? model.fields.map((field) => (
              <ChildField
                key={field.name}
                model={field}
                draft={draftAt(draft, [field.name])}
                path={[...path, field.name]}
              />
            ))
          : figures.map((field) => {
              const typed = draftAt(draft, [field.name])
              return (
                <LeafField
                  key={field.name}
                  model={field}
                  title={withoutPrefix(field.title, model.title)}
                  brief
                  draft={typeof typed === 'string' ? typed : ''}
                  path={[...path, field.name]}
                />
              )
            })}
      </div>
      <IssueLines issues={form.issuesAt(path)} />
    </fieldset>
  )
}

function figuresOfOneUnit(fields: readonly FieldModel[]): readonly NumberModel[] | undefined {
  const figures = fields.filter((field): field is NumberModel => field.kind === 'number')
  const [first] = figures
  return first !== undefined &&
    figures.length === fields.length &&
    figures.length <= 5 &&
    figures.length > 1 &&
    figures.every(({ unit }) => unit === first.unit)
    ? figures
    : undefined
}

/** `Gate width, nominal` under `Gate width` reads `Nominal`. */
export function withoutPrefix(title: string, prefix: string): string {
  const rest = title.startsWith(prefix) ? title.slice(prefix.length).replace(/^[\s,:]+/, '') : title
  return rest === '' ? title : rest.charAt(0).toUpperCase() + rest.slice(1)
}
