import { type Design, formatQuantity } from '@haspwright/engine'
import type { FieldModel } from '../fields/field-model.ts'
import { designModel } from './figure-places.ts'

/** A field in which two versions of a design differ. */
export interface Difference {
  readonly title: string
  readonly from: string
  readonly to: string
}

/** What differs from one version of a design to another, in the words of its fields. */
export function designDifferences(from: Design, to: Design): readonly Difference[] {
  return differ(designModel, from, to)
}

function differ(model: FieldModel, from: unknown, to: unknown): Difference[] {
  if (JSON.stringify(from) === JSON.stringify(to)) return []
  if (model.kind === 'group' && isObject(from) && isObject(to))
    return model.fields.flatMap((field) => differ(field, from[field.name], to[field.name]))
  if (model.kind === 'list' && Array.isArray(from) && Array.isArray(to) && from.length === to.length)
    return from.flatMap((item: unknown, i) => differ(model.item, item, to[i]))
  return [{ title: model.title, from: words(model, from), to: words(model, to) }]
}

function words(model: FieldModel, value: unknown): string {
  if (value === undefined) return 'left out'
  if (typeof value === 'number') return formatQuantity(value, model.kind === 'number' ? model.unit : '', 6)
  if (Array.isArray(value)) return `${value.length} entries`
  return isObject(value) ? 'given' : String(value)
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  value !== null && typeof value === 'object' && !Array.isArray(value)

/** The revision after one: `C` → `D`, `Z` → `AA`, `7` → `8`; anything else gets `.1`. */
export function nextRevision(revision: string): string {
  if (/^\d+$/.test(revision)) return String(Number(revision) + 1)
  if (!/^[A-Z]+$/.test(revision)) return `${revision}.1`.slice(0, 8)
  const last = revision.charCodeAt(revision.length - 1)
  if (last < 'Z'.charCodeAt(0)) return revision.slice(0, -1) + String.fromCharCode(last + 1)
  return revision.length === 1 ? 'AA' : `${nextRevision(revision.slice(0, -1))}A`
}
