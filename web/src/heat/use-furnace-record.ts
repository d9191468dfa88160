import { type Design, furnaceRecord, type Issue, read } from '@haspwright/engine'
import { useMemo, useState } from 'react'
import { type Draft, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { type HardeningWindow, type RecordKind, recordRecipe } from './heat-inputs.ts'
import { useRecord } from './use-heat.ts'

/** Longer than any furnace log of a charge; refused before it is read into memory. */
const MOST_BYTES = 20_000_000

export const recipeModel = fieldModel(furnaceRecord.input.shape.recipe)

interface Given {
  readonly number: number
  readonly name: string
  readonly text: string
}

/** A furnace record on the page: chosen or dropped, read and judged in the browser, never stored. */
export function useFurnaceRecord(design: Design, window: HardeningWindow) {
  const [given, setGiven] = useState<Given>()
  const [refused, setRefused] = useState<readonly Issue[]>([])
  const [kind, setKind] = useState<RecordKind>('hardening')
  const [typed, setTyped] = useState<Readonly<Partial<Record<RecordKind, Draft>>>>({})
  const planned = useMemo(() => draftOf(recipeModel, recordRecipe(kind, design, window)), [kind, design, window])
  const draft = typed[kind] ?? planned
  const recipe = useMemo(() => valueFrom(recipeModel, draft), [draft])
  const readRecipe = useMemo(() => read(furnaceRecord.input.shape.recipe, recipe), [recipe])
  const record = useRecord(given, recipe)

  const answer = given === undefined ? undefined : record.data
  const judged = answer?.ok ? answer.judged : undefined
  const recipeIssues = judged?.ok === false ? judged.issues : []
  const issuesAt = useIssuesByPath(recipeIssues)
  const form: Form = useMemo(
    () => ({
      id: `record-${kind}`,
      change: (path, value) =>
        setTyped((was) => ({ ...was, [kind]: setAt(was[kind] ?? planned, path.slice(1), value) })),
      issuesAt,
    }),
    [kind, planned, issuesAt],
  )
  const take = async (file: File) => {
    setRefused([])
    setGiven(undefined)
    if (file.size > MOST_BYTES) {
      const message = 'The file is too large to be the log of a charge.'
      return setRefused([{ path: '', code: 'too-many', message, value: file.size, allowed: 'at most 20 MB' }])
    }
    const text = await file.text()
    setGiven((was) => ({ number: (was?.number ?? 0) + Date.now(), name: file.name, text }))
  }
  return {
    name: given?.name,
    take,
    forget: () => {
      setGiven(undefined)
      setRefused([])
    },
    kind,
    setKind,
    draft,
    form,
    /** What the record is held against; absent while a limit cannot be read. */
    recipe: readRecipe.ok ? readRecipe.value : undefined,
    isTyped: typed[kind] !== undefined,
    resetRecipe: () => setTyped(({ [kind]: _, ...was }) => was),
    answer,
    judged,
    recipeIssues,
    refused: answer?.ok === false ? answer.issues : refused,
    isReading: given !== undefined && record.isFetching,
    fault: record.error,
  }
}
export type FurnaceRecord = ReturnType<typeof useFurnaceRecord>
