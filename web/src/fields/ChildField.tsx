import { type ComponentType, createContext, useContext } from 'react'
import type { Draft } from './draft.ts'
import type { FieldModel } from './field-model.ts'
import type { FieldPath } from './form-context.ts'

export interface FieldProps {
  readonly model: FieldModel
  readonly draft: Draft
  readonly path: FieldPath
}

/** What draws a field of any kind; parts that hold further fields take it from here, since it holds them. */
export const AnyField = createContext<ComponentType<FieldProps> | undefined>(undefined)

/** A field inside another. */
export function ChildField(props: FieldProps) {
  const Field = useContext(AnyField)
  if (Field === undefined) throw new Error('A field stands outside of a form.')
  return <Field {...props} />
}
