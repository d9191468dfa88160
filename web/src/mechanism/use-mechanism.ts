import { Design, type Issue, read, rockedProbability, steadyProbability } from '@haspwright/engine'
import { useCallback, useMemo, useRef, useState } from 'react'
import type { CalculationAnswer } from '../evidence/calculation-messages.ts'
import { type Draft, setAt, valueFrom } from '../fields/draft.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { designDifferences } from '../what-if/design-differences.ts'
import { designModel, draftOfDesign } from '../what-if/figure-places.ts'
import type { Curves } from './curves.ts'
import type { CurvesQuestion } from './curves.worker.ts'
import { type DiffersQuestion, differsOf, differsQuestion, nearestKey } from './differs.ts'
import { openingWindows } from './opening-windows.ts'
import { useLatestWorker } from './use-latest-worker.ts'

const NO_ISSUES: readonly Issue[] = []
const startCalculation = () =>
  new Worker(new URL('../evidence/calculation.worker.ts', import.meta.url), { type: 'module' })
const startCurves = () => new Worker(new URL('./curves.worker.ts', import.meta.url), { type: 'module' })

/**
 * A mechanism being tried: what is typed, how often which key opens, how many codes it gives. The opening probabilities are computed
 * here, with every change; the count of codes and the curves follow from workers.
 */
export function useMechanism(stored: Design) {
  const [draft, setDraft] = useState<Draft>(() => draftOfDesign(stored))
  const reading = useMemo(() => read(Design, valueFrom(designModel, draft)), [draft])
  const lastGood = useRef(stored)
  if (reading.ok) lastGood.current = reading.value
  const shown = reading.ok ? reading.value : lastGood.current
  const issues = reading.ok ? NO_ISSUES : reading.issues
  const issuesAt = useIssuesByPath(issues)
  const form: Form = useMemo(
    () => ({ id: 'mechanism', change: (path, value) => setDraft((was) => setAt(was, path, value)), issuesAt }),
    [issuesAt],
  )

  const { discs, values } = shown.mechanism
  const [chosen, setChosen] = useState<readonly number[]>([])
  const differences = useMemo(() => fitted(chosen, { discs, values }), [chosen, discs, values])

  const question = useMemo(() => differsQuestion(shown, { withRemedies: false }), [shown])
  const asked = useLatestWorker<DiffersQuestion, CalculationAnswer>(startCalculation, question)
  const differs = differsOf(asked.answer)
  const remediesQuestion = useMemo(() => differsQuestion(shown, { withRemedies: true }), [shown])
  const remedied = useLatestWorker<DiffersQuestion, CalculationAnswer>(startCalculation, remediesQuestion)
  const nearest = useMemo(() => nearestKey(differs, discs), [differs, discs])

  const curvesQuestion = useMemo<CurvesQuestion>(
    () => ({ design: shown, stored, differences: nearest }),
    [shown, stored, nearest],
  )
  const curves = useLatestWorker<CurvesQuestion, Curves>(startCurves, curvesQuestion)

  const windows = useMemo(() => openingWindows(shown), [shown])
  const own = useMemo(() => differences.map(() => 0), [differences])
  const changed = useMemo(
    () => (reading.ok && designDifferences(stored, reading.value).length > 0 ? reading.value : undefined),
    [reading, stored],
  )
  return {
    stored,
    shown,
    draft,
    form,
    issues,
    windows,
    differences,
    changed,
    nearest,
    differs,
    /** The count of codes answers to the figures as they stand. */
    isCounted: asked.question === question,
    refused: asked.answer?.ok === false ? asked.answer.issues : NO_ISSUES,
    notices: asked.answer?.ok === true ? asked.answer.notices : [],
    /** What would win codes, and whether it answers to the figures as they stand. */
    remedies: differsOf(remedied.answer)?.remedies,
    areRemediesFound: remedied.question === remediesQuestion,
    remediesProgress: remedied.progress,
    areCurvesDrawn: curves.question === curvesQuestion,
    fault: asked.fault ?? remedied.fault ?? curves.fault,
    curves: curves.answer,
    ownOpens: useMemo(() => rockedProbability(windows.own, own), [windows, own]),
    otherOpens: useMemo(() => rockedProbability(windows.others, nearest), [windows, nearest]),
    chosenOpens: useMemo(() => {
      const spec = differences.every((steps) => steps === 0) ? windows.own : windows.others
      return { steady: steadyProbability(spec, differences), rocked: rockedProbability(spec, differences) }
    }, [windows, differences]),
    choose: setChosen,
    tryDesign: useCallback((design: Design) => setDraft(draftOfDesign(design)), []),
    reset: useCallback(() => setDraft(draftOfDesign(stored)), [stored]),
  }
}
export type Mechanism = ReturnType<typeof useMechanism>

/** Chosen steps as far as the mechanism has discs and values for them. */
function fitted(chosen: readonly number[], { discs, values }: { discs: number; values: number }): readonly number[] {
  return Array.from({ length: discs }, (_, disc) => {
    const steps = chosen[disc] ?? 0
    return Math.max(1 - values, Math.min(values - 1, steps)) || 0
  })
}
