import type { StoredDesign } from '@haspwright/server/client'
import { getRouteApi, Link } from '@tanstack/react-router'
import { useState } from 'react'
import { useDesign } from '../api/designs.ts'
import { DraftState } from '../designs/DraftState.tsx'
import { FormContext } from '../fields/form-context.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
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
  const design = useDesign(designId)
  usePageTitle(`Mechanism of ${designId}`)
  if (design.isPending) return <Waiting what="the mechanism" />
  if (design.isError) return <FaultPage error={design.error} what="design" retry={() => void design.refetch()} />
  return <MechanismSheet key={design.data.version} stored={design.data} />
}

function MechanismSheet({ stored: { content, version } }: { stored: StoredDesign }) {
  const mechanism = useMechanism(content)
  const [saving, setSaving] = useState(false)
  const { form, issues, changed, reset } = mechanism
  return (
    <div className="page mechanism-page">
      <p className="small quiet">
        <Link to="/designs" className="tap">
          Designs
        </Link>{' '}
        /{' '}
        <Link to="/designs/$designId" params={{ designId: content.id }} className="tap">
          {content.id}
        </Link>{' '}
        / mechanism
      </p>
      <h1 className="title-line">
        Mechanism of {content.title}
        <small>
          design {content.id} · revision {content.revision} · stored version {version}
        </small>
      </h1>
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
    </div>
  )
}
