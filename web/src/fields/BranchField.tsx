import { type Draft, emptyDraft } from './draft.ts'
import type { GroupModel, ListModel, RecordModel, VariantModel } from './field-model.ts'
import { type FieldPath, useForm } from './form-context.ts'
import { GroupField } from './GroupField.tsx'
import { ListField } from './ListField.tsx'
import { RecordField } from './RecordField.tsx'
import { VariantField } from './VariantField.tsx'

/** A part that holds further fields; one that may be left out starts closed, behind a button that adds it. */
export function BranchField({
  model,
  draft,
  path,
}: {
  model: GroupModel | ListModel | RecordModel | VariantModel
  draft: Draft
  path: FieldPath
}) {
  const form = useForm()
  if (draft === undefined)
    return (
      <div className="branch absent">
        <button type="button" className="text-button" onClick={() => form.change(path, emptyDraft(openable(model)))}>
          Add: {model.title}
        </button>
        <span className="optional"> optional</span>
      </div>
    )
  const leaveOut = model.optional ? (
    <button type="button" className="text-button small" onClick={() => form.change(path, undefined)}>
      Leave out
      <span className="visually-hidden">: {model.title}</span>
    </button>
  ) : null
  switch (model.kind) {
    case 'group':
      return <GroupField model={model} draft={draft} path={path} leaveOut={leaveOut} />
    case 'list':
      return <ListField model={model} draft={Array.isArray(draft) ? draft : []} path={path} leaveOut={leaveOut} />
    case 'record':
      return <RecordField model={model} draft={draft} path={path} leaveOut={leaveOut} />
    default:
      return <VariantField model={model} draft={draft} path={path} leaveOut={leaveOut} />
  }
}

/** A list opened by hand starts with one row, even where none is needed. */
function openable<M extends GroupModel | ListModel | RecordModel | VariantModel>(model: M): M {
  return model.kind === 'list' ? { ...model, item: model.item, min: Math.max(1, model.min) } : model
}
