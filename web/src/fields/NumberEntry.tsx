import type { KeyboardEvent } from 'react'
import type { NumberModel } from './field-model.ts'
import { elementId, type FieldPath, useForm } from './form-context.ts'
import { parseNumberText, stepNumberText } from './number-text.ts'

/** A figure with its unit. Keeps what was typed; arrow up and down move the last decimal, with shift ten times that. */
export function NumberEntry({
  model,
  draft,
  path,
  label,
  describedBy,
}: {
  model: NumberModel
  draft: string
  path: FieldPath
  label?: string
  describedBy?: string
}) {
  const form = useForm()
  const step = (event: KeyboardEvent) => {
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return
    if (parseNumberText(draft) === undefined) return
    event.preventDefault()
    form.change(path, stepNumberText(draft, event.key === 'ArrowUp' ? 1 : -1, event.shiftKey ? 10 : 1))
  }
  return (
    <span className="entry">
      <input
        id={elementId(form, path)}
        type="text"
        inputMode={model.integer ? 'numeric' : 'decimal'}
        autoComplete="off"
        spellCheck={false}
        value={draft}
        aria-label={label}
        aria-describedby={describedBy}
        aria-invalid={form.issuesAt(path).length > 0}
        onChange={(event) => form.change(path, event.target.value)}
        onBlur={() => form.leave?.(path)}
        onKeyDown={step}
      />
      {model.unit === '' ? null : <span className="unit">{model.unit}</span>}
    </span>
  )
}
