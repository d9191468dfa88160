import type { FieldModel, NumberModel } from '../fields/field-model.ts'
import type { FieldPath } from '../fields/form-context.ts'
import { designModel } from '../what-if/figure-places.ts'

/** The field of a figure of the design, as its schema declares it. */
export function numberModelAt(path: FieldPath): NumberModel {
  const found = path.reduce<FieldModel | undefined>(
    (model, step) => (model?.kind === 'group' ? model.fields.find(({ name }) => name === step) : undefined),
    designModel,
  )
  if (found?.kind !== 'number') throw new Error(`There is no figure at ${path.join('.')}.`)
  return found
}
