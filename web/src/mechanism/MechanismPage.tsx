import type { StoredDesign } from '@haspwright/server/client'
import { getRouteApi } from '@tanstack/react-router'
import { useState } from 'react'
import { DesignSubpage } from '../designs/DesignSubpage.tsx'
import { DraftState } from '../designs/DraftState.tsx'
import { FormContext } from '../fields/form-context.ts'
import { SaveRevision } from '../what-if/SaveRevision.tsx'
import { MechanismFigures } from './MechanismFigures.tsx'
import { Remedies } from './Remedies.tsx'
import { ToleranceCurves } from './ToleranceCurves.tsx'
import { TurningKey } from './TurningKey.tsx'
import { useMechanism } from './use-mechanism.ts'
import '../orders/order-page.css'
import './mechanism.css'

const route = getRouteApi('/designs/$designId/mechanism')

/** The mechanism of a design: the key turned in it, which keys open it, how many codes it gives, and what its tolerances do to both. */
export function MechanismPage() {
  const { designId } = route.useParams()
  return (
    <DesignSubpage designId={designId} title="Mechanism" className="mechanism-page">
      {(stored) => <MechanismSheet stored={stored} />}
    </DesignSubpage>
  )
}

function MechanismSheet({ stored: { content } }: { stored: StoredDesign }) {
  const mechanism = useMechanism(content)
  const [saving, setSaving] = useState(false)
  const { form, issues, changed, reset } = mechanism
  return (
    <>
      <MechanismFigures mechanism={mechanism} />
      <TurningKey mechanism={mechanism} />
      <FormContext value={form}>
        <section className="tolerances" aria-labelledby="tolerances">
          <div className="section-head tolerance-head">
            <h2 id="tolerances">Interchange against each tolerance</h2>
            <DraftState
              issues={issues.length}
              changed={changed !== undefined}
              onReset={reset}
              onSave={() => setSaving(true)}
            />
          </div>
          <ToleranceCurves mechanism={mechanism} />
        </section>
        <Remedies mechanism={mechanism} />
      </FormContext>
      {saving && changed !== undefined ? (
        <SaveRevision
          planned={content}
          changed={changed}
          onClose={() => setSaving(false)}
          onSaved={() => setSaving(false)}
        />
      ) : null}
    </>
  )
}
