import { SaveButton } from './SaveButton.tsx'

/** Where a changed design stands, and the two ways on: back to what is stored, or a new revision. */
export function DraftState({
  issues,
  changed,
  onReset,
  onSave,
}: {
  readonly issues: number
  readonly changed: boolean
  readonly onReset: () => void
  readonly onSave: () => void
}) {
  return (
    <>
      <span className="small quiet" role="status">
        {issues > 0
          ? `${issues} ${issues === 1 ? 'field is' : 'fields are'} to be mended.`
          : changed
            ? 'Changed; not stored yet.'
            : 'As stored.'}
      </span>
      <button type="button" className="button" onClick={onReset} disabled={!changed && issues === 0}>
        Reset
      </button>
      <SaveButton ready={changed} onSave={onSave} />
    </>
  )
}
