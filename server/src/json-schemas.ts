import { type AnyCalculation, Design, Order, Works } from '@haspwright/engine'
import { z } from 'zod'

/** The file formats that people write, by the name their schema is asked for. */
export const FILE_FORMATS = { design: Design, order: Order, works: Works } as const
export type FileFormat = keyof typeof FILE_FORMATS

export function isFileFormat(name: string): name is FileFormat {
  return Object.hasOwn(FILE_FORMATS, name)
}

/** The format a file says it has: `haspwright/order/1` → `order`. */
export function formatOf(content: unknown): FileFormat | undefined {
  const said = (content as { schema?: unknown } | null | undefined)?.schema
  const name = typeof said === 'string' ? /^haspwright\/([a-z]+)\/1$/.exec(said)?.[1] : undefined
  return name !== undefined && isFileFormat(name) ? name : undefined
}

/** A JSON Schema (draft 2020-12) with titles, units and limits, generated from the one declaration. */
export function jsonSchemaOf(schema: z.ZodType, io: 'input' | 'output' = 'input'): Record<string, unknown> {
  return z.toJSONSchema(schema, { io, unrepresentable: 'any' }) as Record<string, unknown>
}

/** What a calculation takes and gives, as JSON Schemas. */
export function calculationSchemas({ id, title, summary, input, output }: AnyCalculation) {
  return { id, title, summary, input: jsonSchemaOf(input), output: jsonSchemaOf(output, 'output') }
}
