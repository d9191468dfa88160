import type { Design } from '@haspwright/engine'
import type { StoredDesign } from '@haspwright/server/client'
import { getRouteApi, Link } from '@tanstack/react-router'
import { useState } from 'react'
import { useDesign } from '../api/designs.ts'
import { useWorks } from '../api/works.ts'
import { ChainsPart } from '../chains/ChainsPart.tsx'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import type { FieldModel } from '../fields/field-model.ts'
import { FormContext } from '../fields/form-context.ts'
import { IssueLines } from '../fields/IssueLines.tsx'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { Margins } from '../margins/Margins.tsx'
import { FindingWorking } from '../orders/FindingWorking.tsx'
import { stationNames } from '../orders/stations.ts'
import { designModel } from '../what-if/figure-places.ts'
import { SaveRevision } from '../what-if/SaveRevision.tsx'
import { DesignDrawings } from './DesignDrawings.tsx'
import { DraftState } from './DraftState.tsx'
import { type DesignEditing, useDesignEditing } from './use-design-editing.ts'
import './designs.css'

const route = getRouteApi('/designs/$designId')

/** One design: drawn, its figures open to be changed, and what its margins say to them. */
export function DesignPage() {
  const { designId } = route.useParams()
  const design = useDesign(designId)
  usePageTitle(`Design ${designId}`)
  if (design.isPending) return <Waiting what="the design" />
  if (design.isError) return <FaultPage error={design.error} what="design" retry={() => void design.refetch()} />
  return <DesignSheet key={design.data.version} stored={design.data} />
}

function DesignSheet({ stored }: { stored: StoredDesign }) {
  const works = useWorks()
  const editing = useDesignEditing(stored.content, works.data?.content)
  const { shown } = editing
  return (
    <div className="page design-page">
      <p className="small quiet">
        <Link to="/designs" className="tap">
          Designs
        </Link>{' '}
        / {stored.content.id}
      </p>
      <h1 className="title-line">
        {shown.title}
        <small>
          design {stored.content.id} · revision {stored.content.revision} · stored version {stored.version}
        </small>
      </h1>
      <p className="screen-only">
        <Link to="/designs/$designId/mechanism" params={{ designId: stored.content.id }} className="tap">
          Mechanism: turn the key, see which keys open it
        </Link>{' '}
        ·{' '}
        <Link to="/designs/$designId/solid" params={{ designId: stored.content.id }} className="tap">
          Solid: turn, cut and open it, drawings and files to download
        </Link>
      </p>
      <DesignDrawings design={shown} />
      <div className="design-columns">
        <DesignForm editing={editing} stored={stored.content} />
        <DesignMargins editing={editing} />
      </div>
      {editing.findings === undefined || editing.designPlan === undefined ? null : (
        <ChainsPart findings={editing.findings} plan={editing.designPlan} />
      )}
    </div>
  )
}

function DesignForm({ editing, stored }: { editing: DesignEditing; stored: Design }) {
  const [saving, setSaving] = useState(false)
  const { draft, form, issues, changed, reset } = editing
  const fields = designModel.kind === 'group' ? designModel.fields : []
  // The number stays what it is, and the revision is named when it is saved.
  const simple = fields.filter((field) => isSimple(field) && field.name !== 'revision' && field.name !== 'id')
  return (
    <FormContext value={form}>
      <form className="form" noValidate aria-label="Figures of the design" onSubmit={(event) => event.preventDefault()}>
        <div className="design-save">
          <DraftState
            issues={issues.length}
            changed={changed !== undefined}
            onReset={reset}
            onSave={() => setSaving(true)}
          />
        </div>
        <div className="group-fields">
          {simple.map((field) => (
            <Field key={field.name} model={field} draft={draftAt(draft, [field.name])} path={[field.name]} />
          ))}
        </div>
        {fields
          .filter((field) => !isSimple(field))
          .map((field) => (
            <DesignPart key={field.name} field={field} editing={editing} />
          ))}
        <IssueLines issues={form.issuesAt([])} />
      </form>
      {saving && changed !== undefined ? (
        <SaveRevision
          planned={stored}
          changed={changed}
          onClose={() => setSaving(false)}
          onSaved={() => setSaving(false)}
        />
      ) : null}
    </FormContext>
  )
}

/** A part of the design, open where something in it is to be mended. */
function DesignPart({ field, editing: { draft, issues } }: { field: FieldModel; editing: DesignEditing }) {
  const own = issues.filter(
    ({ path }) => path === field.name || path.startsWith(`${field.name}.`) || path.startsWith(`${field.name}[`),
  )
  const [open, setOpen] = useState(field.name === 'mechanism')
  return (
    <details
      className="design-part"
      open={open || own.length > 0}
      onToggle={(event) => setOpen(event.currentTarget.open)}
    >
      <summary className="tap">
        {field.title}
        {own.length > 0 ? <span className="short"> {own.length} to be mended</span> : null}
      </summary>
      <Field model={field} draft={draftAt(draft, [field.name])} path={[field.name]} />
    </details>
  )
}

function DesignMargins({ editing: { findings, before, designPlan, changed } }: { editing: DesignEditing }) {
  const [selected, setSelected] = useState<string>()
  if (findings === undefined || designPlan === undefined) return <div className="design-margins" />
  return (
    <div className="design-margins">
      <Margins
        findings={findings}
        {...(changed === undefined ? {} : { before })}
        stationOf={stationNames([designPlan])}
        selected={selected}
        onOpen={(finding) => setSelected(finding.id === selected ? undefined : finding.id)}
        under={(finding) => <FindingWorking finding={finding} onClose={() => setSelected(undefined)} />}
      />
    </div>
  )
}

const isSimple = ({ kind }: FieldModel) =>
  kind === 'text' || kind === 'number' || kind === 'choice' || kind === 'fixed' || kind === 'switch'
