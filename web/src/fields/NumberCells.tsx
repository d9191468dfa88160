import type { ClipboardEvent } from 'react'
import type { Draft } from './draft.ts'
import type { ListModel, NumberModel } from './field-model.ts'
import { type FieldPath, useForm } from './form-context.ts'
import { IssueLines } from './IssueLines.tsx'
import { NumberEntry } from './NumberEntry.tsx'
import { splitPasted } from './number-text.ts'

/** Figures in numbered cells. A column pasted from a spreadsheet fills as many cells as it has figures. */
export function NumberCells({
  model,
  item,
  draft,
  path,
}: {
  model: ListModel
  item: NumberModel
  draft: readonly Draft[]
  path: FieldPath
}) {
  const form = useForm()
  const paste = (at: number) => (event: ClipboardEvent) => {
    const parts = splitPasted(event.clipboardData.getData('text'))
    if (parts.length < 2) return
    event.preventDefault()
    form.change(path, [...draft.slice(0, at), ...parts, ...draft.slice(at + 1)].slice(0, model.max))
  }
  return (
    <>
      <ol className="cells">
        {draft.map((typed, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a cell is its place in the list
          <li key={i} onPaste={paste(i)} data-bad={form.issuesAt([...path, i]).length > 0 || undefined}>
            <span className="figure quiet" aria-hidden="true">
              {i + 1}
            </span>
            <NumberEntry
              model={item}
              draft={typeof typed === 'string' ? typed : ''}
              path={[...path, i]}
              label={`${model.title}, ${i + 1}`}
            />
          </li>
        ))}
      </ol>
      <p className="cell-buttons">
        <button
          type="button"
          className="text-button small"
          disabled={draft.length >= model.max}
          onClick={() => form.change(path, [...draft, ''])}
        >
          Add a figure<span className="visually-hidden"> to {model.title}</span>
        </button>
        <button
          type="button"
          className="text-button small"
          disabled={draft.length <= model.min}
          onClick={() => form.change(path, draft.slice(0, -1))}
        >
          Remove the last<span className="visually-hidden"> of {model.title}</span>
        </button>
        <span className="hint">{item.range === '' ? '' : `${item.range} ${item.unit}`}</span>
      </p>
      {draft.map((_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a cell is its place in the list
        <IssueLines key={i} issues={form.issuesAt([...path, i])} />
      ))}
    </>
  )
}
