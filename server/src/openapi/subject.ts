import type { Json } from './words.ts'

/** What belongs together in the document, and is read together. */
export interface Subject {
  readonly name: string
  readonly description: string
  readonly paths: Json
}

/** The paths of a subject, each operation marked with it and with a name of its own that links can keep. */
export function ofSubject({ name, paths }: Subject): Json {
  return Object.fromEntries(
    Object.entries(paths).map(([path, item]) => [
      path,
      Object.fromEntries(
        Object.entries(item as Json).map(([key, value]) => [
          key,
          key === 'parameters' ? value : { operationId: nameOf(key, path), tags: [name], ...(value as Json) },
        ]),
      ),
    ]),
  )
}

/** `get`, `/api/orders/{id}/papers` → `get-orders-id-papers` */
const nameOf = (method: string, path: string) =>
  [method, ...path.replace('/api/', '').split(/[^a-z]+/)].filter((word) => word !== '').join('-')
