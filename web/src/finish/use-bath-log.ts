import { bathFor, type Issue, read, type Works } from '@haspwright/engine'
import { useCallback, useEffect, useMemo, useState } from 'react'
import { type Draft, type DraftGroup, draftOf, emptyDraft, setAt, valueFrom } from '../fields/draft.ts'
import { type FieldModel, fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import {
  analysisSchema,
  BATHS,
  type BathAnalysis,
  type BathKindName,
  type BathLimits,
  limitsOf,
  limitsSchema,
} from './bath-kinds.ts'
import { additionsAfter, byDay, csvOf, readCsv } from './bath-log.ts'

const MOST_BYTES = 2_000_000
const NO_ISSUES: readonly Issue[] = []

interface Kept {
  readonly log: readonly BathAnalysis[]
  readonly limits: Draft | undefined
  readonly saved: boolean
}

/** Lives as long as the page is not loaded anew, one for each bath: nothing of a bath log is stored yet. */
const keptOf = new Map<BathKindName, Kept>()

/** The analyses of a bath: typed or read from a file, held against limits, and gone with the page. */
export function useBathLog(name: BathKindName, works: Pick<Works, 'plating'> | undefined, today: string) {
  const kind = BATHS[name]
  const stated = works === undefined ? undefined : bathFor(works, name)
  const models = useMemo(
    () => ({ analysis: fieldModel(analysisSchema(kind)), limits: fieldModel(limitsSchema(kind)) }),
    [kind],
  )
  const kept = keptOf.get(name) ?? { log: [], limits: undefined, saved: true }
  const [log, setLog] = useState(kept.log)
  const [isSaved, setIsSaved] = useState(kept.saved)
  const [typedLimits, setTypedLimits] = useState(kept.limits)
  const firstLimits = useMemo(() => draftOf(models.limits, limitsOf(kind, stated)), [models, kind, stated])
  const limitsDraft = typedLimits ?? firstLimits
  const [typed, setTyped] = useState<Draft>(() => emptyAnalysis(models.analysis, today))
  const [tried, setTried] = useState(false)
  const [refused, setRefused] = useState<readonly Issue[]>(NO_ISSUES)
  useEffect(() => {
    keptOf.set(name, { log, limits: typedLimits, saved: isSaved })
  }, [name, log, typedLimits, isSaved])
  useEffect(() => {
    if (isSaved) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    addEventListener('beforeunload', ask)
    return () => removeEventListener('beforeunload', ask)
  }, [isSaved])

  const limits = useMemo(
    () => read(limitsSchema(kind), valueFrom(models.limits, limitsDraft)),
    [kind, models, limitsDraft],
  )
  const limitsInForce = limits.ok ? (limits.value as BathLimits) : undefined // the schema of its kind
  const limitsForm = useForm(
    'bath',
    limits.ok ? NO_ISSUES : limits.issues,
    useCallback((next: (was: Draft) => Draft) => setTypedLimits((was) => next(was ?? firstLimits)), [firstLimits]),
  )
  const reading = useMemo(() => read(analysisSchema(kind), valueFrom(models.analysis, typed)), [kind, models, typed])
  const analysisForm = useForm('analysis', !tried || reading.ok ? NO_ISSUES : reading.issues, setTyped)
  const last = log.at(-1)
  return {
    kind,
    models,
    /** Where the targets come from; absent where the works describes no such bath. */
    statedBy: stated?.source,
    log,
    isSaved,
    limitsDraft: limitsDraft as DraftGroup, // a group by its schema
    limitsForm,
    limits: limitsInForce,
    typed: typed as DraftGroup, // a group by its schema
    analysisForm,
    refused,
    last,
    result: useMemo(
      () => (limitsInForce !== undefined && last !== undefined ? additionsAfter(kind, last, limitsInForce) : undefined),
      [kind, limitsInForce, last],
    ),
    enter: () => {
      setTried(true)
      if (!reading.ok) return
      setLog((was) => byDay([...was, reading.value as BathAnalysis]))
      setIsSaved(false)
      setTried(false)
      setTyped(emptyAnalysis(models.analysis, today))
    },
    strike: (date: string) => {
      setLog((was) => was.filter((analysis) => analysis.date !== date))
      setIsSaved(false)
    },
    csv: () => {
      setIsSaved(true)
      return csvOf(kind, log)
    },
    take: async (file: File) => {
      setRefused(NO_ISSUES)
      if (file.size > MOST_BYTES)
        return setRefused([
          {
            path: '',
            code: 'too-many',
            message: 'The file is too large to be a bath log.',
            value: file.size,
            allowed: 'at most 2 MB',
          },
        ])
      const answer = readCsv(kind, await file.text())
      if (!answer.ok) return setRefused(answer.issues)
      setLog((was) => byDay([...was, ...answer.log]))
      setIsSaved(log.length === 0)
    },
  }
}
export type BathLog = ReturnType<typeof useBathLog>

const emptyAnalysis = (model: FieldModel, today: string) => setAt(emptyDraft(model), ['date'], today)

function useForm(id: string, issues: readonly Issue[], set: (next: (was: Draft) => Draft) => void): Form {
  const issuesAt = useIssuesByPath(issues)
  return useMemo(
    () => ({ id, change: (path, value) => set((was) => setAt(was, path, value)), issuesAt }),
    [id, issuesAt, set],
  )
}
