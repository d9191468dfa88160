import type { z } from 'zod'
import type { FieldMeta } from './quantity.ts'

/** The few questions asked of a schema outside of parsing: which field is at a path, what it is called, how far it goes. */

type Inner = {
  type: string
  innerType?: z.ZodType
  in?: z.ZodType
  element?: z.ZodType
  shape?: Record<string, z.ZodType>
  valueType?: z.ZodType
  options?: z.ZodType[]
  discriminator?: string
  items?: z.ZodType[]
}
const inner = (schema: z.ZodType) => schema.def as unknown as Inner

/** Takes off optional, default, nullable and the like; the label may sit on any of the layers. */
export function unwrap(schema: z.ZodType): z.ZodType {
  const def = inner(schema)
  if (def.innerType !== undefined) return unwrap(def.innerType)
  if (def.type === 'pipe' && def.in !== undefined) return unwrap(def.in)
  return schema
}

/** Label, unit and the rest of a field, taken from whichever layer carries them. */
export function metaOf(schema: z.ZodType | undefined): FieldMeta | undefined {
  if (schema === undefined) return undefined
  const own = schema.meta() as FieldMeta | undefined
  if (own?.title !== undefined || own?.secret) return own
  const def = inner(schema)
  const next = def.innerType ?? (def.type === 'pipe' ? def.in : undefined)
  return next === undefined ? own : metaOf(next)
}

/** The schema of the field at a path; `given` picks the branch of a union. */
export function fieldAt(schema: z.ZodType, path: readonly PropertyKey[], given: unknown): z.ZodType | undefined {
  if (path.length === 0) return schema
  const [step, ...rest] = path
  const core = unwrap(schema)
  const def = inner(core)
  const value =
    given === null || typeof given !== 'object' ? undefined : (given as Record<PropertyKey, unknown>)[step ?? '']
  switch (def.type) {
    case 'object': {
      const field = def.shape?.[String(step)]
      return field === undefined ? undefined : fieldAt(field, rest, value)
    }
    case 'array':
      return def.element === undefined ? undefined : fieldAt(def.element, rest, value)
    case 'record':
      return def.valueType === undefined ? undefined : fieldAt(def.valueType, rest, value)
    case 'tuple': {
      const item = def.items?.[Number(step)]
      return item === undefined ? undefined : fieldAt(item, rest, value)
    }
    case 'union': {
      const branch = branchOf(def, given) ?? def.options?.find((option) => fieldAt(option, path, given) !== undefined)
      return branch === undefined ? undefined : fieldAt(branch, path, given)
    }
    default:
      return undefined
  }
}

function branchOf({ options, discriminator }: Inner, given: unknown): z.ZodType | undefined {
  if (discriminator === undefined || given === null || typeof given !== 'object') return undefined
  const tag = (given as Record<string, unknown>)[discriminator]
  return options?.find((option) => {
    const field = inner(unwrap(option)).shape?.[discriminator]
    return field !== undefined && unwrap(field).safeParse(tag).success
  })
}

/** Inclusive and exclusive limits of a number field, `undefined` for anything else. */
export function numberLimits(
  schema: z.ZodType | undefined,
): { over?: number; min?: number; under?: number; max?: number; integer: boolean } | undefined {
  if (schema === undefined) return undefined
  const core = unwrap(schema)
  if (inner(core).type !== 'number') return undefined
  const checks = ((core.def as unknown as { checks?: { _zod: { def: NumberCheck } }[] }).checks ?? []).map(
    (c) => c._zod.def,
  )
  const integer = (core as z.ZodNumber).isInt
  const limits: { over?: number; min?: number; under?: number; max?: number; integer: boolean } = { integer }
  for (const check of checks) {
    if (check.check === 'greater_than') limits[check.inclusive ? 'min' : 'over'] = check.value
    if (check.check === 'less_than') limits[check.inclusive ? 'max' : 'under'] = check.value
  }
  return limits
}
interface NumberCheck {
  check: string
  inclusive: boolean
  value: number
}

/** Every number field that carries a trusted range and lies outside it, as `[title, value, range]`. */
export function untrusted(
  schema: z.ZodType,
  value: unknown,
): { title: string; unit: string; value: number; range: readonly [number, number] }[] {
  const core = unwrap(schema)
  const def = inner(core)
  if (typeof value === 'number') {
    const meta = metaOf(schema)
    if (meta?.trusted === undefined) return []
    const [low, high] = meta.trusted
    return value < low || value > high
      ? [{ title: meta.title ?? '', unit: meta.unit ?? '', value, range: meta.trusted }]
      : []
  }
  if (Array.isArray(value))
    return def.element === undefined ? [] : value.flatMap((item) => untrusted(def.element as z.ZodType, item))
  if (value === null || typeof value !== 'object') return []
  return Object.entries(value).flatMap(([key, item]) => {
    const field = fieldAt(core, [key], value)
    return field === undefined ? [] : untrusted(field, item)
  })
}
