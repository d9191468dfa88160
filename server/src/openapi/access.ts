import type { Access } from '../access/caller.ts'
import { PERMISSIONS, rolesThatMay, SCOPES, wantsSecondFactor } from '../access/roles.ts'
import type { DeclaredRoute } from '../access/routes.ts'
import type { Json } from './words.ts'

export const securitySchemes: Json = {
  session: { type: 'apiKey', in: 'cookie', name: 'haspwright.session_token', description: 'A person who is signed in' },
  token: {
    type: 'http',
    scheme: 'bearer',
    description: 'A token of a service account, in the head of the request. The administrator makes it under Tokens',
  },
}

/** States at each operation who may call it, as its route declares it. */
export function withAccess(routes: readonly DeclaredRoute[], paths: Json): Json {
  const accessOf = new Map(
    routes.map(({ method, path, access }) => [`${method} ${path.replace(/:[a-z]+(\{[^/]*\})?/g, '{}')}`, access]),
  )
  return Object.fromEntries(
    Object.entries(paths).map(([path, item]) => [
      path,
      Object.fromEntries(
        Object.entries(item as Json).map(([method, operation]) => {
          const access = accessOf.get(`${method.toUpperCase()} ${generic(path)}`)
          return [
            method,
            access === undefined ? operation : { ...(operation as Json), ...stated(access, operation as Json) },
          ]
        }),
      ),
    ]),
  )
}

const generic = (path: string) => path.replace(/^\/api\/calc\/[a-z].*$/, '/api/calc/{}').replace(/\{[a-z]+\}/g, '{}')

function stated(access: Access, { responses }: Json): Json {
  if (access.to === 'anybody') return { security: [], 'x-who': `Anybody. ${access.because}` }
  const scope = access.to === 'those-who-may' ? access.scope : undefined
  return {
    security: [{ session: [] }, ...(scope === undefined ? [] : [{ token: [scope] }])],
    'x-who': whoText(access),
    responses: { ...(responses as Json), 401: refused('Nobody is signed in'), 403: refused('Not for this caller') },
  }
}

/** Who may call, in words. */
export function whoText(access: Access): string {
  if (access.to === 'anybody') return 'Anybody'
  if (access.to === 'signed-in') return 'Every person who is signed in, about their own account'
  const people = access.permission.map(
    (permission) =>
      `${rolesThatMay(permission).join(', ')}${wantsSecondFactor(permission) ? ' with second factor' : ''} (may ${PERMISSIONS[permission].may})`,
  )
  const token = access.scope === undefined ? [] : [`a token with ${access.scope} (may ${SCOPES[access.scope]})`]
  return [...people, ...token].join('; ')
}

const refused = (description: string) => ({
  description,
  content: { 'application/json': { schema: { $ref: '#/components/schemas/Error' } } },
})
