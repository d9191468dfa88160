import { Design } from '@haspwright/engine'
import { draftOf } from '../fields/draft.ts'
import { type FieldModel, fieldModel } from '../fields/field-model.ts'
import type { FieldPath } from '../fields/form-context.ts'

/** The form of a design, made from its schema: the one list of what can be changed. */
export const designModel: FieldModel = fieldModel(Design)

export const draftOfDesign = (design: Design) => draftOf(designModel, design)

/** A single figure of a design: where it stands and how it is declared. */
export interface FigurePlace {
  readonly path: FieldPath
  readonly field: Extract<FieldModel, { kind: 'number' }>
  readonly value: number
}

/** Every figure that stands in a design. */
export function figurePlaces(design: Design): readonly FigurePlace[] {
  return collect(designModel, design, [])
}

function collect(model: FieldModel, value: unknown, path: FieldPath): FigurePlace[] {
  if (model.kind === 'number') return typeof value === 'number' ? [{ path, field: model, value }] : []
  if (model.kind === 'group' && value !== null && typeof value === 'object')
    return model.fields.flatMap((field) =>
      collect(field, (value as Record<string, unknown>)[field.name], [...path, field.name]),
    )
  if (model.kind === 'list' && Array.isArray(value))
    return value.flatMap((item, i) => collect(model.item, item, [...path, i]))
  return []
}

/** A design with one figure changed. */
export function withFigure<T>(design: T, [step, ...rest]: FieldPath, figure: number): T {
  if (step === undefined) return figure as T // the end of the path is the figure itself
  if (Array.isArray(design)) return design.map((item, i) => (i === step ? withFigure(item, rest, figure) : item)) as T
  const group = design as Record<string, unknown>
  return { ...group, [step]: withFigure(group[step], rest, figure) } as T
}
