import { type ReactNode, useState } from 'react'
import { ChildField } from './ChildField.tsx'
import { type Draft, type DraftGroup, emptyDraft } from './draft.ts'
import type { RecordModel } from './field-model.ts'
import { elementId, type FieldPath, useForm } from './form-context.ts'
import { IssueLines } from './IssueLines.tsx'

/** Values by a name that is chosen here: a new one is added by typing its name. */
export function RecordField({
  model,
  draft,
  path,
  leaveOut,
}: {
  model: RecordModel
  draft: Draft
  path: FieldPath
  leaveOut?: ReactNode
}) {
  const form = useForm()
  const [newKey, setNewKey] = useState('')
  const group: DraftGroup =
    draft !== undefined && typeof draft === 'object' && !Array.isArray(draft) ? (draft as DraftGroup) : {}
  const add = () => {
    if (newKey.trim() === '' || newKey in group) return
    form.change(path, { ...group, [newKey.trim()]: emptyDraft(model.item) })
    setNewKey('')
  }
  return (
    <fieldset className="branch record">
      <legend>
        {model.title} {leaveOut}
      </legend>
      <div className="group-fields">
        {Object.entries(group).map(([key, item]) => (
          <div key={key} className="record-entry">
            <ChildField model={{ ...model.item, title: key, optional: false }} draft={item} path={[...path, key]} />
            <button
              type="button"
              className="text-button small"
              onClick={() => form.change(path, Object.fromEntries(Object.entries(group).filter(([k]) => k !== key)))}
            >
              Remove<span className="visually-hidden"> {key}</span>
            </button>
          </div>
        ))}
        <div className="field">
          <label htmlFor={elementId(form, path, '-new')}>New entry, its name</label>
          <span className="entry">
            <input
              id={elementId(form, path, '-new')}
              type="text"
              autoComplete="off"
              value={newKey}
              onChange={(event) => setNewKey(event.target.value)}
              onKeyDown={(event) => {
                if (event.key !== 'Enter') return
                event.preventDefault()
                add()
              }}
            />
            <button type="button" className="text-button small" onClick={add}>
              Add
            </button>
          </span>
        </div>
      </div>
      <IssueLines issues={form.issuesAt(path)} />
    </fieldset>
  )
}
