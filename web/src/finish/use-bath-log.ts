import { type Issue, read } from '@haspwright/engine'
import { useEffect, useMemo, useState } from 'react'
import { type Draft, type DraftGroup, draftOf, emptyDraft, setAt, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { additionsAfter, byDay, csvOf, readCsv } from './bath-log.ts'
import { BathAnalysis, BathLimits, PRACTICE_LIMITS } from './bath-schema.ts'

export const analysisModel = fieldModel(BathAnalysis)
export const limitsModel = fieldModel(BathLimits)
const MOST_BYTES = 2_000_000
const NO_ISSUES: readonly Issue[] = []

/** Lives as long as the page is not loaded anew: nothing of a bath log is stored yet. */
const kept: { log: readonly BathAnalysis[]; limits: Draft; saved: boolean } = {
  log: [],
  limits: draftOf(limitsModel, PRACTICE_LIMITS),
  saved: true,
}

/** The analyses of the nickel bath: typed or read from a file, held against limits, and gone with the page. */
export function useBathLog(today: string) {
  const [log, setLog] = useState(kept.log)
  const [isSaved, setIsSaved] = useState(kept.saved)
  const [limitsDraft, setLimitsDraft] = useState<Draft>(kept.limits)
  const [typed, setTyped] = useState<Draft>(() => emptyAnalysis(today))
  const [tried, setTried] = useState(false)
  const [refused, setRefused] = useState<readonly Issue[]>(NO_ISSUES)
  useEffect(() => {
    Object.assign(kept, { log, limits: limitsDraft, saved: isSaved })
  }, [log, limitsDraft, isSaved])
  useEffect(() => {
    if (isSaved) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    addEventListener('beforeunload', ask)
    return () => removeEventListener('beforeunload', ask)
  }, [isSaved])

  const limits = useMemo(() => read(BathLimits, valueFrom(limitsModel, limitsDraft)), [limitsDraft])
  const limitsForm = useForm('bath', limits.ok ? NO_ISSUES : limits.issues, setLimitsDraft)
  const reading = useMemo(() => read(BathAnalysis, valueFrom(analysisModel, typed)), [typed])
  const analysisForm = useForm('analysis', !tried || reading.ok ? NO_ISSUES : reading.issues, setTyped)
  const last = log.at(-1)
  return {
    log,
    isSaved,
    limitsDraft: limitsDraft as DraftGroup, // a group by its schema
    limitsForm,
    limits: limits.ok ? limits.value : undefined,
    typed: typed as DraftGroup, // a group by its schema
    analysisForm,
    refused,
    last,
    result: useMemo(
      () => (limits.ok && last !== undefined ? additionsAfter(last, limits.value) : undefined),
      [limits, last],
    ),
    enter: () => {
      setTried(true)
      if (!reading.ok) return
      setLog((was) => byDay([...was, reading.value]))
      setIsSaved(false)
      setTried(false)
      setTyped(emptyAnalysis(today))
    },
    strike: (date: string) => {
      setLog((was) => was.filter((analysis) => analysis.date !== date))
      setIsSaved(false)
    },
    csv: () => {
      setIsSaved(true)
      return csvOf(log)
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
      const answer = readCsv(await file.text())
      if (!answer.ok) return setRefused(answer.issues)
      setLog((was) => byDay([...was, ...answer.log]))
      setIsSaved(log.length === 0)
    },
  }
}
export type BathLog = ReturnType<typeof useBathLog>

const emptyAnalysis = (today: string) => setAt(emptyDraft(analysisModel), ['date'], today)

function useForm(id: string, issues: readonly Issue[], set: (next: (was: Draft) => Draft) => void): Form {
  const issuesAt = useIssuesByPath(issues)
  return useMemo(
    () => ({ id, change: (path, value) => set((was) => setAt(was, path, value)), issuesAt }),
    [id, issuesAt, set],
  )
}
