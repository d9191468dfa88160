/** The OpenAPI document as far as its readers need it; it is built from the routes and the schemas that check the input. */
export interface ApiDocument {
  readonly info: { readonly title: string; readonly version: string; readonly description: string }
  readonly tags: readonly { readonly name: string; readonly description: string }[]
  /** By path, then by method; beside the methods stand the parameters they share. */
  readonly paths: Readonly<
    Record<
      string,
      { readonly [method in ApiMethod]?: ApiOperation } & { readonly parameters?: readonly ApiParameter[] }
    >
  >
  readonly components: {
    readonly securitySchemes: Readonly<Record<string, { readonly description: string }>>
    readonly schemas: Readonly<Record<string, JsonSchema>>
  }
}

export type ApiMethod = 'get' | 'post' | 'put' | 'delete'

export interface ApiOperation {
  readonly operationId: string
  readonly tags: readonly string[]
  readonly summary: string
  readonly description?: string
  /** None: open to anybody. A token is named with the scopes it needs. */
  readonly security?: readonly Readonly<Record<string, readonly string[]>>[]
  /** Who may call, in words. */
  readonly 'x-who'?: string
  readonly parameters?: readonly ApiParameter[]
  readonly requestBody?: { readonly content: ApiContent }
  readonly responses: Readonly<Record<string, { readonly description: string; readonly content?: ApiContent }>>
}

/** By media type. */
type ApiContent = Readonly<Record<string, { readonly schema?: JsonSchema; readonly example?: unknown }>>

export interface ApiParameter {
  readonly name: string
  readonly in: 'path' | 'query' | 'header'
  readonly required?: boolean
  readonly description?: string
  readonly schema: JsonSchema
  readonly example?: string
}

/** A JSON Schema (draft 2020-12) with the title, unit, trusted range and words of choices that our fields carry. */
export interface JsonSchema {
  readonly $ref?: string
  readonly type?: string | readonly string[]
  readonly title?: string
  readonly description?: string
  readonly unit?: string
  readonly trusted?: readonly [number, number]
  readonly secret?: boolean
  readonly choices?: Readonly<Record<string, string>>
  readonly default?: unknown
  readonly const?: unknown
  readonly enum?: readonly unknown[]
  readonly format?: string
  readonly pattern?: string
  readonly minimum?: number
  readonly maximum?: number
  readonly exclusiveMinimum?: number
  readonly exclusiveMaximum?: number
  readonly minLength?: number
  readonly maxLength?: number
  readonly minItems?: number
  readonly maxItems?: number
  readonly properties?: Readonly<Record<string, JsonSchema>>
  readonly required?: readonly string[]
  readonly additionalProperties?: boolean | JsonSchema
  readonly items?: JsonSchema
  readonly prefixItems?: readonly JsonSchema[]
  readonly anyOf?: readonly JsonSchema[]
  readonly oneOf?: readonly JsonSchema[]
}
