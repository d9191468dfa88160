import { pathText } from '@haspwright/engine'
import { type Draft, draftAt } from '../fields/draft.ts'
import type { FieldModel } from '../fields/field-model.ts'
import type { FieldPath } from '../fields/form-context.ts'
import { designModel } from './figure-places.ts'
import type { Influence } from './influence.ts'

/** A field of the compact editor: a figure, or a size with its deviations as one. */
export interface EditorField {
  readonly model: FieldModel
  readonly path: FieldPath
  /** The part of the design it stands in: `Barrel`. */
  readonly part: string
}

/** The fields that an operation's margins rest on, strongest first; figures of one size are one field. */
export function editorFields(found: readonly Influence[], draft: Draft): readonly EditorField[] {
  const places = new Map(placesOf(designModel, draft, [], '').map((place) => [pathText(place.leaf), place.field]))
  const fields = new Map<string, EditorField>()
  for (const { path } of found) {
    const field = places.get(path)
    if (field !== undefined && !fields.has(pathText(field.path))) fields.set(pathText(field.path), field)
  }
  return [...fields.values()]
}

function placesOf(
  model: FieldModel,
  draft: Draft,
  path: FieldPath,
  part: string,
): { leaf: FieldPath; field: EditorField }[] {
  if (model.kind === 'number') return [{ leaf: path, field: { model, path, part } }]
  if (model.kind === 'list')
    return (Array.isArray(draft) ? draft : []).flatMap((item, i) =>
      placesOf(model.item, item, [...path, i], `${model.item.title} ${i + 1}`),
    )
  if (model.kind !== 'group' || draft === undefined) return []
  const whole = isOneSize(model) ? { model: { ...model, fields: model.fields }, path, part } : undefined
  return model.fields.flatMap((field) => {
    const inner = placesOf(
      field,
      draftAt(draft, [field.name]),
      [...path, field.name],
      path.length === 0 ? field.title : part,
    )
    return whole === undefined ? inner : inner.map(({ leaf }) => ({ leaf, field: whole }))
  })
}

/** A nominal with its deviations, a least and a most: figures of one unit that are read together. */
function isOneSize({ fields }: Extract<FieldModel, { kind: 'group' }>): boolean {
  const [first] = fields
  return (
    first?.kind === 'number' &&
    fields.length > 1 &&
    fields.length <= 5 &&
    fields.every((field) => field.kind === 'number' && field.unit === first.unit)
  )
}
