import type { Design } from '@haspwright/engine'
import { getRouteApi } from '@tanstack/react-router'
import { useEffect, useMemo, useState } from 'react'
import { type Draft, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { certificateModel, emptyCertificate, readAnalysis } from './own-analysis.ts'
import { type PastedAnalysis, readPastedAnalysis } from './pasted-analysis.ts'

const route = getRouteApi('/orders/$orderId')
const AFTER_TYPING_MS = 400

/** The analysis of the heat at hand: typed or pasted, checked against the steel, kept in the address and nowhere else. */
export function useOwnAnalysis({ id, shackle }: Design) {
  const search = route.useSearch()
  const navigate = route.useNavigate()
  const stored = search.analysis?.[id]
  const [draft, setDraft] = useState<Draft>(() =>
    stored === undefined ? emptyCertificate : draftOf(certificateModel, stored),
  )
  const [pasted, setPasted] = useState<PastedAnalysis>()
  const result = useMemo(() => readAnalysis(shackle.steel, draft), [shackle.steel, draft])
  const { empty } = result

  const written = empty ? undefined : JSON.stringify(valueFrom(certificateModel, draft))
  const inAddress = stored === undefined ? undefined : JSON.stringify(stored)
  useEffect(() => {
    if (written === inAddress) return
    const timer = setTimeout(
      () =>
        void navigate({
          search: ({ analysis: was, ...rest }) => {
            const { [id]: _, ...others } = was ?? {}
            const next = written === undefined ? others : { ...others, [id]: JSON.parse(written) as unknown }
            return Object.keys(next).length === 0 ? rest : { ...rest, analysis: next }
          },
          replace: true,
          resetScroll: false,
        }),
      AFTER_TYPING_MS,
    )
    return () => clearTimeout(timer)
  }, [written, inAddress, id, navigate])

  const issuesAt = useIssuesByPath(result.issues)
  const form: Form = useMemo(
    () => ({ id: `analysis-${id}`, change: (path, value) => setDraft((was) => setAt(was, path, value)), issuesAt }),
    [id, issuesAt],
  )
  const paste = (text: string) => {
    const found = readPastedAnalysis(text)
    setPasted(found)
    setDraft((was) =>
      Object.entries(found.values).reduce(
        (next, [element, percent]) => setAt(next, ['analysis', element], percent),
        was,
      ),
    )
  }
  const reset = () => {
    setDraft(emptyCertificate)
    setPasted(undefined)
  }
  return { draft, form, result, pasted, paste, reset }
}
