import type { ChoiceModel, SwitchModel } from './field-model.ts'
import { elementId, type FieldPath, useForm } from './form-context.ts'

/** One of a few named values. */
export function ChoiceEntry({
  model,
  draft,
  path,
  label,
  describedBy,
}: {
  model: ChoiceModel | SwitchModel
  draft: string
  path: FieldPath
  label?: string
  describedBy?: string
}) {
  const form = useForm()
  const options =
    model.kind === 'switch'
      ? [
          { value: true, title: 'yes' },
          { value: false, title: 'no' },
        ]
      : model.options
  return (
    <span className="entry">
      <select
        id={elementId(form, path)}
        value={draft}
        aria-label={label}
        aria-describedby={describedBy}
        aria-invalid={form.issuesAt(path).length > 0}
        onChange={(event) => form.change(path, event.target.value)}
        onBlur={() => form.leave?.(path)}
      >
        {draft === '' || model.optional ? <option value="">{model.optional ? 'not given' : 'choose'}</option> : null}
        {options.map(({ value, title }) => (
          <option key={String(value)} value={String(value)}>
            {title}
          </option>
        ))}
      </select>
    </span>
  )
}
