import { BranchField } from './BranchField.tsx'
import { AnyField, type FieldProps } from './ChildField.tsx'
import { LeafField } from './LeafField.tsx'
import './fields.css'

/** A field of any kind, as its schema declares it. */
export function Field({ model, draft, path }: FieldProps) {
  switch (model.kind) {
    case 'fixed':
      return null
    case 'group':
    case 'list':
    case 'record':
    case 'variant':
      return (
        <AnyField value={Field}>
          <BranchField model={model} draft={draft} path={path} />
        </AnyField>
      )
    default:
      return <LeafField model={model} draft={typeof draft === 'string' ? draft : ''} path={path} />
  }
}
