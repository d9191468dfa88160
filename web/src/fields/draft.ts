import type { FieldModel, VariantModel } from './field-model.ts'
import { numberText, parseNumberText } from './number-text.ts'

/**
 * What stands in a form: the text of every field as typed, in the shape of the value. `undefined` is an optional part that was left out.
 * Nothing typed is ever lost: a text that is no number goes to the engine as it is, and comes back as an issue at its field.
 */
export type Draft = string | undefined | readonly Draft[] | { readonly [key: string]: Draft }
export type DraftGroup = { readonly [key: string]: Draft }

/** Remembers which variant was chosen where the schema names no tag of its own. */
export const VARIANT = '(variant)'

/** An empty form: required parts open, optional parts left out, lists as long as they must be. */
export function emptyDraft(model: FieldModel): Draft {
  switch (model.kind) {
    case 'group':
      return Object.fromEntries(
        model.fields.map((field) => [field.name, field.optional && isBranch(field) ? undefined : emptyDraft(field)]),
      )
    case 'list':
      return Array.from({ length: model.min }, () => emptyDraft(model.item))
    case 'record':
      return {}
    case 'variant': {
      const first = model.variants[0]
      return first === undefined ? {} : variantDraft(model, first.value)
    }
    case 'fixed':
      return String(model.value)
    default:
      return ''
  }
}

/** A fresh form of one variant. */
export function variantDraft(model: VariantModel, value: string): DraftGroup {
  const variant = model.variants.find((v) => v.value === value)
  const inner = variant === undefined ? {} : emptyDraft(variant.field)
  return variant?.field.kind === 'group'
    ? { ...(inner as DraftGroup), [model.tag ?? VARIANT]: value }
    : { [VARIANT]: value, value: inner }
}

/** Puts a value into the form, as when an example is taken or a file is opened. */
export function draftOf(model: FieldModel, value: unknown): Draft {
  if (value === undefined) return model.optional && isBranch(model) ? undefined : emptyDraft(model)
  switch (model.kind) {
    case 'number':
      return typeof value === 'number' ? numberText(value) : value === null ? '' : String(value)
    case 'group': {
      const given = asObject(value)
      return Object.fromEntries(model.fields.map((field) => [field.name, draftOf(field, given[field.name])]))
    }
    case 'list':
      return Array.isArray(value) ? value.map((item) => draftOf(model.item, item)) : []
    case 'record':
      return Object.fromEntries(Object.entries(asObject(value)).map(([key, item]) => [key, draftOf(model.item, item)]))
    case 'variant':
      return draftOfVariant(model, value)
    default:
      return String(value)
  }
}

function draftOfVariant(model: VariantModel, value: unknown): Draft {
  const tag = model.tag === undefined ? undefined : asObject(value)[model.tag]
  const variant =
    model.variants.find((v) => v.value === tag) ??
    model.variants.find(({ field }) => (field.kind === 'number' ? typeof value === 'number' : false)) ??
    model.variants[0]
  if (variant === undefined) return {}
  const inner = draftOf(variant.field, value)
  return variant.field.kind === 'group'
    ? { ...(inner as DraftGroup), [model.tag ?? VARIANT]: variant.value }
    : { [VARIANT]: variant.value, value: inner }
}

/** The value a form stands for: numbers read, empty fields left out, anything unreadable kept as text for the engine to report. */
export function valueFrom(model: FieldModel, draft: Draft): unknown {
  if (draft === undefined) return undefined
  switch (model.kind) {
    case 'number': {
      const typed = typeof draft === 'string' ? draft : ''
      if (typed.trim() === '') return model.nullable ? null : undefined
      return parseNumberText(typed) ?? typed
    }
    case 'choice':
      return model.options.find((option) => String(option.value) === draft)?.value ?? (draft === '' ? undefined : draft)
    case 'fixed':
      return model.value
    case 'switch':
      return draft === '' ? (model.optional ? undefined : false) : draft === 'true'
    case 'group':
      return groupValue(model.fields, asGroup(draft))
    case 'list':
      return Array.isArray(draft) ? draft.map((item) => valueFrom(model.item, item)) : []
    case 'record':
      return Object.fromEntries(Object.entries(asGroup(draft)).map(([key, item]) => [key, valueFrom(model.item, item)]))
    case 'variant': {
      const group = asGroup(draft)
      const variant = model.variants.find((v) => v.value === (group[model.tag ?? VARIANT] ?? group[VARIANT]))
      if (variant === undefined) return undefined
      return variant.field.kind === 'group'
        ? groupValue(variant.field.fields, group)
        : valueFrom(variant.field, group['value'])
    }
    default:
      return draft === '' && !model.mayBeEmpty ? undefined : draft
  }
}

function groupValue(fields: readonly FieldModel[], draft: DraftGroup): Record<string, unknown> {
  return Object.fromEntries(
    fields
      .map((field) => [field.name, valueFrom(field, draft[field.name])] as const)
      .filter(([, value]) => value !== undefined),
  )
}

/** The draft with one place changed; the rest stays the same object, so that unchanged fields need not be drawn again. */
export function setAt(draft: Draft, path: readonly (string | number)[], value: Draft): Draft {
  const [step, ...rest] = path
  if (step === undefined) return value
  if (typeof step === 'number') {
    const items: readonly Draft[] = Array.isArray(draft) ? draft : []
    return items.map((item, i) => (i === step ? setAt(item, rest, value) : item))
  }
  const group = asGroup(draft)
  return { ...group, [step]: setAt(group[step], rest, value) }
}

/** The part of a draft at a place. */
export function draftAt(draft: Draft, path: readonly (string | number)[]): Draft {
  return path.reduce<Draft>((inner, step) => {
    if (inner === undefined || typeof inner === 'string') return undefined
    return (inner as Record<string | number, Draft>)[step] // a list by number, a group by name
  }, draft)
}

const isBranch = ({ kind }: FieldModel) =>
  kind === 'group' || kind === 'list' || kind === 'variant' || kind === 'record'
const asGroup = (draft: Draft): DraftGroup =>
  draft !== undefined && typeof draft !== 'string' && !Array.isArray(draft) ? (draft as DraftGroup) : {}
const asObject = (value: unknown): Record<string, unknown> =>
  value !== null && typeof value === 'object' ? (value as Record<string, unknown>) : {}
