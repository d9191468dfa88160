import type { Design } from '@haspwright/engine'
import { useState } from 'react'
import { usePlanAgain } from '../api/orders.ts'
import { SaveButton } from '../designs/SaveButton.tsx'
import { SaveRevision } from '../what-if/SaveRevision.tsx'
import type { WhatIf } from '../what-if/use-what-if.ts'

/** Says that the page shows tried figures, not the plan; takes them back or saves them. */
export function ChangeBar({ orderId, planned, whatIf }: { orderId: string; planned: Design; whatIf: WhatIf }) {
  const [saving, setSaving] = useState(false)
  const planAgain = usePlanAgain(orderId)
  const { isChanged, isPlanning, issues, changedDesign, reset } = whatIf
  if (!isChanged && issues.length === 0) return null
  return (
    <section className="change-bar screen-only" aria-label="Tried figures">
      <p role="status">
        <strong>Tried figures, not the plan.</strong>{' '}
        {issues.length > 0
          ? 'A field cannot be read yet; the margins show the last figures that could.'
          : 'Dashed marks show where each margin was.'}
        {isPlanning ? ' Bars, lots and the due date are being planned with them.' : ''}
      </p>
      <button type="button" className="button" onClick={reset}>
        Reset
      </button>
      <SaveButton ready={changedDesign !== undefined} onSave={() => setSaving(true)} />
      {saving && changedDesign !== undefined ? (
        <SaveRevision
          planned={planned}
          changed={changedDesign}
          onClose={() => setSaving(false)}
          onSaved={() => {
            setSaving(false)
            planAgain.mutate()
          }}
        />
      ) : null}
    </section>
  )
}
