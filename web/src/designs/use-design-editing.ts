import { Design, type Finding, type Issue, planDesign, read, type Works } from '@haspwright/engine'
import { useMemo, useRef, useState } from 'react'
import { type Draft, setAt, valueFrom } from '../fields/draft.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { designDifferences } from '../what-if/design-differences.ts'
import { designModel, draftOfDesign } from '../what-if/figure-places.ts'

const NO_ISSUES: readonly Issue[] = []

/** A design being changed: what is typed, what is wrong with it, and what its margins say to it. */
export function useDesignEditing(stored: Design, works: Works | undefined) {
  const [draft, setDraft] = useState<Draft>(() => draftOfDesign(stored))
  const reading = useMemo(() => read(Design, valueFrom(designModel, draft)), [draft])
  const lastGood = useRef(stored)
  if (reading.ok) lastGood.current = reading.value
  const shown = reading.ok ? reading.value : lastGood.current
  const planned = useMemo(() => (works === undefined ? undefined : planDesign(shown, works)), [shown, works])
  const before = useMemo(
    () =>
      new Map<string, Finding>(
        works === undefined ? [] : planDesign(stored, works).findings.map((finding) => [finding.id, finding]),
      ),
    [stored, works],
  )
  const issues = reading.ok ? NO_ISSUES : reading.issues
  const issuesAt = useIssuesByPath(issues)
  const form: Form = useMemo(
    () => ({ id: 'design', change: (path, value) => setDraft((was) => setAt(was, path, value)), issuesAt }),
    [issuesAt],
  )
  const differs = useMemo(() => reading.ok && designDifferences(stored, reading.value).length > 0, [reading, stored])
  return {
    draft,
    form,
    issues,
    shown,
    findings: planned?.findings,
    designPlan: planned?.plan,
    before,
    changed: reading.ok && differs ? reading.value : undefined,
    reset: () => setDraft(draftOfDesign(stored)),
  }
}
export type DesignEditing = ReturnType<typeof useDesignEditing>
