import type { ApiDocument, ApiMethod, ApiOperation, ApiParameter, JsonSchema } from '@haspwright/server/client'

/** A route as somebody reads it who writes a program against it. */
export interface ApiRoute {
  /** Names it in the address of its page. */
  readonly name: string
  /** In capitals. */
  readonly method: string
  readonly path: string
  readonly title: string
  readonly description?: string
  readonly subject: string
  readonly access: RouteAccess
  readonly parameters: readonly ApiParameter[]
  readonly bodies: readonly Content[]
  readonly answers: readonly Answer[]
}

export interface RouteAccess {
  readonly kind: 'anybody' | 'people' | 'people-and-tokens'
  /** Who may call, a sentence each. */
  readonly words: readonly string[]
  /** Scopes of which a token needs one. */
  readonly scopes: readonly string[]
}

export interface Content {
  readonly mediaType: string
  readonly schema?: JsonSchema
  readonly example?: unknown
}

export interface Answer {
  readonly status: string
  readonly description: string
  /** Told in the one form of everything that is not a result. */
  readonly refused: boolean
  readonly content: readonly Content[]
}

export interface Subject {
  readonly name: string
  readonly description: string
  readonly routes: readonly ApiRoute[]
}

const METHODS: readonly ApiMethod[] = ['get', 'post', 'put', 'delete']

/** Every route of the document under its subject, both in the document's order. */
export function routesBySubject({ tags, paths }: ApiDocument): Subject[] {
  const routes = Object.entries(paths).flatMap(([path, item]) =>
    METHODS.flatMap((method) => {
      const operation = item[method]
      return operation === undefined ? [] : [routeOf({ method, path, operation, shared: item.parameters ?? [] })]
    }),
  )
  return tags.map(({ name, description }) => ({
    name,
    description,
    routes: routes.filter(({ subject }) => subject === name),
  }))
}

function routeOf({
  method,
  path,
  operation,
  shared,
}: {
  method: string
  path: string
  operation: ApiOperation
  shared: readonly ApiParameter[]
}): ApiRoute {
  const { operationId, tags, summary, description, parameters = [], requestBody, responses } = operation
  return {
    name: operationId,
    method: method.toUpperCase(),
    path,
    title: summary,
    ...(description === undefined ? {} : { description }),
    subject: tags[0] ?? '',
    access: accessOf(operation),
    parameters: [...shared, ...parameters],
    bodies: contentOf(requestBody?.content),
    answers: Object.entries(responses).map(([status, answer]) => ({
      status,
      description: answer.description,
      refused: Number(status) >= 400,
      content: contentOf(answer.content),
    })),
  }
}

function accessOf({ security = [], 'x-who': who = '' }: ApiOperation): RouteAccess {
  const scopes = security.flatMap(({ token }) => token ?? [])
  return {
    kind: security.length === 0 ? 'anybody' : scopes.length > 0 ? 'people-and-tokens' : 'people',
    words: who.split('; '),
    scopes,
  }
}

const contentOf = (content: NonNullable<ApiOperation['requestBody']>['content'] = {}): Content[] =>
  Object.entries(content).map(([mediaType, { schema, example }]) => ({
    mediaType,
    ...(schema === undefined ? {} : { schema }),
    ...(example === undefined ? {} : { example }),
  }))

/** The subjects with the routes in which every word of `find` occurs; a subject without any is left out. */
export function matching(subjects: readonly Subject[], find: string): Subject[] {
  const words = find.toLowerCase().split(/\s+/).filter(Boolean)
  return subjects
    .map((subject) => ({
      ...subject,
      routes: subject.routes.filter((route) => {
        const text = [route.method, route.path, route.title, route.description, subject.name, ...route.access.words]
          .join(' ')
          .toLowerCase()
        return words.every((word) => text.includes(word))
      }),
    }))
    .filter(({ routes }) => routes.length > 0)
}
