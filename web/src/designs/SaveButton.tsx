import { useMay } from '../api/people.ts'
import { WhyNot } from '../people/WhyNot.tsx'

/** Stores what was tried as a new revision; anybody may try, whoever may not store is told who may. */
export function SaveButton({ ready, onSave }: { ready: boolean; onSave: () => void }) {
  if (!useMay('designs.write')) return <WhyNot permission="designs.write" />
  return (
    <button type="button" className="button primary" disabled={!ready} onClick={onSave}>
      Save as new revision
    </button>
  )
}
