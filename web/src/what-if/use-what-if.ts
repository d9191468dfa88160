import { Design, type Issue, read, type WorksPlan } from '@haspwright/engine'
import { useDeferredValue, useMemo, useRef, useState } from 'react'
import { type Draft, setAt, valueFrom } from '../fields/draft.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { type ChangedPlan, changedPlan, type OwnHeats } from './changed-plan.ts'
import { designDifferences } from './design-differences.ts'
import { designModel, draftOfDesign } from './figure-places.ts'
import { useReplanned } from './use-replanned.ts'

/**
 * Other figures tried on a plan. The margins follow at once, in the page; nothing is stored before it is saved as a revision. While a field
 * holds something that cannot be read, the margins stay as they were and the field says why.
 * @param ownHeats analyses typed on the page, by design: the margins follow them
 */
export function useWhatIf(plan: WorksPlan, design: Design, ownHeats: OwnHeats) {
  const [drafts, setDrafts] = useState<Readonly<Record<string, Draft>>>({})
  const draft = drafts[design.id] ?? draftOfDesign(design)
  // Typing comes first: the margins follow as soon as the field stands, and only for the latest figures.
  const tried = useDeferredValue(drafts)

  const readings = useMemo(
    () => Object.entries(tried).map(([id, given]) => ({ id, reading: read(Design, valueFrom(designModel, given)) })),
    [tried],
  )
  const lastGood = useRef<ReadonlyMap<string, Design>>(new Map())
  const changed = useMemo(() => {
    const next = new Map<string, Design>()
    for (const { id, reading } of readings) {
      const value = reading.ok ? reading.value : lastGood.current.get(id)
      const planned = plan.designs.find((each) => each.design.id === id)?.design
      if (value !== undefined && planned !== undefined && designDifferences(planned, value).length > 0)
        next.set(id, value)
    }
    lastGood.current = next
    return next
  }, [readings, plan])
  const { replanned, isPlanning } = useReplanned(plan, changed)
  const shown: ChangedPlan = useMemo(
    () => changedPlan(plan, { changed, own: ownHeats, whole: replanned }),
    [plan, changed, ownHeats, replanned],
  )
  const before = useMemo(() => new Map(plan.findings.map((finding) => [finding.id, finding])), [plan])

  const own = readings.find(({ id }) => id === design.id)?.reading
  const issues: readonly Issue[] = own?.ok === false ? own.issues : []
  const issuesAt = useIssuesByPath(issues)
  const form: Form = useMemo(
    () => ({
      id: `what-if-${design.id}`,
      change: (path, value) =>
        setDrafts((was) => ({ ...was, [design.id]: setAt(was[design.id] ?? draftOfDesign(design), path, value) })),
      issuesAt,
    }),
    [design, issuesAt],
  )
  return {
    draft,
    form,
    issues,
    shown,
    before,
    isChanged: changed.size > 0,
    /** Bars, lots and the due date still follow from the figures before. */
    isPlanning,
    /** Designs that follow an analysis typed on this page. */
    followsOwnHeat: ownHeats.size > 0,
    /** The design with the figures tried, where it differs and can be read. */
    changedDesign: own?.ok === false ? undefined : changed.get(design.id),
    reset: () => setDrafts({}),
  }
}
export type WhatIf = ReturnType<typeof useWhatIf>
