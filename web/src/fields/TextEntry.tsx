import type { TextModel } from './field-model.ts'
import { elementId, type FieldPath, useForm } from './form-context.ts'

/** A line of text. A secret one is hidden while typed and never offered again by the browser. */
export function TextEntry({
  model,
  draft,
  path,
  label,
  describedBy,
}: {
  model: TextModel
  draft: string
  path: FieldPath
  label?: string
  describedBy?: string
}) {
  const form = useForm()
  return (
    <span className="entry">
      <input
        id={elementId(form, path)}
        type={model.secret ? 'password' : 'text'}
        autoComplete="off"
        spellCheck={false}
        value={draft}
        aria-label={label}
        aria-describedby={describedBy}
        aria-invalid={form.issuesAt(path).length > 0}
        onChange={(event) => form.change(path, event.target.value)}
        onBlur={() => form.leave?.(path)}
      />
    </span>
  )
}
