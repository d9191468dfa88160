import { type AnyCalculation, type Issue, pathText, read } from '@haspwright/engine'
import { useRouter } from '@tanstack/react-router'
import { useCallback, useEffect, useMemo, useState } from 'react'
import { type Draft, draftOf, emptyDraft, setAt, valueFrom } from '../fields/draft.ts'
import { inputModel } from '../fields/field-model.ts'
import type { FieldPath, Form } from '../fields/form-context.ts'
import { useIssuesByPath } from '../fields/form-context.ts'
import { addressOf, inputFrom } from './input-in-address.ts'
import { useCalculation } from './use-calculation.ts'

/** What a figure waits before it is computed, so that typing is not interrupted. */
const AFTER_TYPING_MS = 160

/** The state of a calculation's page: what is typed, what is wrong with it, what came out. */
export function useCalculationPage(calculation: AnyCalculation) {
  const model = inputModel(calculation)
  const router = useRouter()
  const isSecret = calculation.secret === true
  const [draft, setDraft] = useState<Draft>(() => {
    const given = isSecret ? undefined : inputFrom(router.state.location.hash)
    return given === undefined ? emptyDraft(model) : draftOf(model, given)
  })
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set())
  const [askedOnce, setAskedOnce] = useState(false)
  const { calculating, ask, cancel } = useCalculation(calculation.id)

  const input = useMemo(() => valueFrom(model, draft), [model, draft])
  const reading = useMemo(() => read(calculation.input, input), [calculation, input])
  const untouched = useMemo(() => JSON.stringify(draft) === JSON.stringify(emptyDraft(model)), [draft, model])

  // Short calculations answer as one types; long ones wait for the button.
  useEffect(() => {
    if (!reading.ok || calculation.kind === 'long') return
    const timer = setTimeout(() => ask(input), AFTER_TYPING_MS)
    return () => clearTimeout(timer)
  }, [reading.ok, calculation.kind, ask, input])

  useEffect(() => {
    if (isSecret || untouched) return
    const timer = setTimeout(
      () =>
        void router.navigate({
          to: '.',
          hash: addressOf(input),
          replace: true,
          resetScroll: false,
          hashScrollIntoView: false,
        }),
      400,
    )
    return () => clearTimeout(timer)
  }, [router, input, isSecret, untouched])

  const refused = calculating.answer?.ok === false ? calculating.answer.issues : []
  const issues: readonly Issue[] = reading.ok ? refused : reading.issues
  const shown = issues.filter(
    ({ path }) => askedOnce || reading.ok || [...left].some((at) => path === at || path.startsWith(`${at}[`)),
  )
  const issuesAt = useIssuesByPath(shown)
  const form: Form = useMemo(
    () => ({
      id: 'given',
      change: (path, value) => setDraft((was) => setAt(was, path, value)),
      leave: (path: FieldPath) => setLeft((was) => (was.has(pathText(path)) ? was : new Set([...was, pathText(path)]))),
      issuesAt,
    }),
    [issuesAt],
  )

  const submit = useCallback(() => {
    setAskedOnce(true)
    if (reading.ok) ask(input)
  }, [ask, input, reading.ok])
  const fill = useCallback(
    (value: unknown) => {
      setDraft(draftOf(model, value))
      if (calculation.kind === 'long') ask(value)
    },
    [model, calculation.kind, ask],
  )
  const clear = useCallback(() => {
    setDraft(emptyDraft(model))
    setLeft(new Set())
    setAskedOnce(false)
    if (!isSecret) void router.navigate({ to: '.', hash: '', replace: true, resetScroll: false })
  }, [model, isSecret, router])

  return { model, draft, form, issues, shown, ready: reading.ok, untouched, calculating, submit, fill, clear, cancel }
}
export type CalculationPageState = ReturnType<typeof useCalculationPage>
