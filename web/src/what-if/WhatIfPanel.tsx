import { type Design, demandOf, type WorksPlan } from '@haspwright/engine'

import { useMemo, useState } from 'react'
import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import { FormContext } from '../fields/form-context.ts'
import { type EditorField, editorFields } from './editor-fields.ts'
import { useInfluences } from './use-influences.ts'
import { useWarmPlan } from './use-warm-plan.ts'
import type { WhatIf } from './use-what-if.ts'
import './what-if.css'

/** How many fields show before the rest is asked for: the ones that move this step's margins most. */
const FIRST = 5

/** The figures that a station's margins rest on, open to be changed; the margins follow at once. */
export function WhatIfPanel({
  operationId,
  design,
  plan,
  whatIf,
}: {
  operationId: string
  /** As it was planned. */
  design: Design
  plan: WorksPlan
  whatIf: WhatIf
}) {
  const [open, setOpen] = useState(false)
  const demand = useMemo(() => demandOf(plan.order, design.id), [plan.order, design.id])
  const influences = useInfluences(design, plan.works, demand, open)
  useWarmPlan(plan, open)
  const fields = editorFields(influences.data?.[operationId] ?? [], whatIf.draft)
  return (
    <details className="what-if screen-only" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary className="tap">Try other figures</summary>
      {influences.isError ? (
        <p className="short">The figures could not be worked out. Close and open this part to try again.</p>
      ) : null}
      {influences.isPending ? (
        <p className="small quiet what-if-wait" role="status">
          Finding out what these margins rest on …
        </p>
      ) : fields.length === 0 ? (
        <p className="small quiet">No margin of this step rests on a figure of the design.</p>
      ) : (
        <FormContext value={whatIf.form}>
          <p className="small quiet">
            What moves the margins of this step, strongest first. Nothing is stored until it is saved as a revision.
            Arrow up and down change the last decimal.
          </p>
          <EditorFields fields={fields.slice(0, FIRST)} whatIf={whatIf} />
          {fields.length > FIRST ? (
            <details>
              <summary className="label tap">
                {fields.length - FIRST} more {fields.length - FIRST === 1 ? 'figure' : 'figures'}
              </summary>
              <EditorFields fields={fields.slice(FIRST)} whatIf={whatIf} />
            </details>
          ) : null}
        </FormContext>
      )}
    </details>
  )
}

function EditorFields({ fields, whatIf }: { fields: readonly EditorField[]; whatIf: WhatIf }) {
  return (
    <div className="what-if-fields">
      {fields.map(({ model, path, part }) => (
        <div key={path.join('.')}>
          <p className="what-if-part">{part}</p>
          <Field model={model} draft={draftAt(whatIf.draft, path)} path={path} />
        </div>
      ))}
    </div>
  )
}
