import { type Issue, pathText } from '@haspwright/engine'
import { createContext, useContext, useMemo } from 'react'
import type { Draft } from './draft.ts'

export type FieldPath = readonly (string | number)[]

/** What every field of a form knows: how to change its place, and what is wrong there. */
export interface Form {
  readonly id: string
  change(path: FieldPath, draft: Draft): void
  /** A field was left: from now on its issues may show. */
  leave?(path: FieldPath): void
  issuesAt(path: FieldPath): readonly Issue[]
}

export const FormContext = createContext<Form | undefined>(undefined)

export function useForm(): Form {
  const form = useContext(FormContext)
  if (form === undefined) throw new Error('A field stands outside of a form.')
  return form
}

/** Issues by place. */
export function useIssuesByPath(issues: readonly Issue[]): (path: FieldPath) => readonly Issue[] {
  return useMemo(() => {
    const byPath = new Map<string, Issue[]>()
    for (const issue of issues) byPath.set(issue.path, [...(byPath.get(issue.path) ?? []), issue])
    return (path) => byPath.get(pathText(path)) ?? []
  }, [issues])
}

/** `id` of the element at a place, for labels and descriptions. */
export function elementId(form: Form, path: FieldPath, part = ''): string {
  return `${form.id}-${pathText(path).replaceAll(/[^A-Za-z0-9]+/g, '-')}${part}`
}
