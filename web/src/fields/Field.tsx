import { BranchField } from './BranchField.tsx'
import type { Draft } from './draft.ts'
import type { FieldModel } from './field-model.ts'
import type { FieldPath } from './form-context.ts'
import { LeafField } from './LeafField.tsx'
import './fields.css'

/** A field of any kind, as its schema declares it. */
export function Field({ model, draft, path }: { model: FieldModel; draft: Draft; path: FieldPath }) {
  switch (model.kind) {
    case 'fixed':
      return null
    case 'group':
    case 'list':
    case 'record':
    case 'variant':
      return <BranchField model={model} draft={draft} path={path} />
    default:
      return <LeafField model={model} draft={typeof draft === 'string' ? draft : ''} path={path} />
  }
}
