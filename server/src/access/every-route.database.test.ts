import type { Handler } from 'hono'
import { describe, expect, it } from 'vitest'
import { onEveryServer } from '../../../register/src/postgres/test-database.testing.ts'
import { type Browser, peopleBench } from '../people/people-bench.testing.ts'
import type { Access } from './caller.ts'
import { PERMISSIONS, type Permission, ROLE_NAMES, ROLES, type Role, SCOPE_NAMES } from './roles.ts'
import { type AppEnv, assertEveryRouteDeclares, Routes, routesOf } from './routes.ts'

/** By hand, so that a slip in the table of roles is seen: who may call what, as the trade brief has it. */
const EXPECTED: Readonly<Record<Permission, readonly Role[]>> = {
  'orders.read': ['engineer', 'planner', 'operator', 'builder', 'inspector', 'registrar'],
  'orders.write': ['engineer', 'planner'],
  'designs.read': ['engineer', 'planner', 'operator', 'builder', 'inspector', 'registrar'],
  'designs.write': ['engineer'],
  'calculations.use': ['engineer', 'planner', 'operator', 'builder', 'inspector', 'registrar'],
  'codes.count': ['engineer', 'planner', 'registrar'],
  'codes.act': ['registrar'],
  'codes.see': ['registrar'],
  'codes.see-in-hand': ['builder'],
  'codes.log': ['registrar'],
  'lots.give': ['planner', 'registrar'],
  'replacements.ask': ['registrar'],
  'replacements.decide': ['registrar'],
  'people.manage': ['administrator'],
  'tokens.manage': ['administrator'],
}
const WANTS_SECOND_FACTOR: readonly Permission[] = [
  'codes.act',
  'codes.see',
  'codes.log',
  'replacements.decide',
  'people.manage',
  'tokens.manage',
]

/** What a caller must be answered, by the table above and not by the code that decides. */
function expected(access: Access, { role, secondFactor }: { role: Role; secondFactor: boolean }): 'let in' | 403 {
  if (access.to !== 'those-who-may') return 'let in'
  return access.permission.some(
    (permission) => EXPECTED[permission].includes(role) && (secondFactor || !WANTS_SECOND_FACTOR.includes(permission)),
  )
    ? 'let in'
    : 403
}

const REFUSALS = [401, 403]

describe('every route', () => {
  onEveryServer(({ shared }) => {
    it('lets in whom it declares and nobody else: nobody, every role with and without second factor, every token', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      const routes = routesOf(bench.app).filter(({ path }) => path.startsWith('/api/'))
      expect(routes.length).toBeGreaterThan(55)
      const ask = (browser: Browser, { method, path }: { method: string; path: string }, headers = {}) => {
        const address = path.replace(/:[a-z]+(\{[^/]*\})?/g, 'none')
        return browser.send(method, address, method === 'GET' ? undefined : {}, headers)
      }
      const told: string[] = []
      const check = async (
        who: string,
        route: (typeof routes)[number],
        answer: Response,
        wanted: 'let in' | 401 | 403,
      ) => {
        const { status } = answer
        const code = REFUSALS.includes(status)
          ? ((await answer.json()) as { issues: { path: string; code: string }[] }).issues[0]
          : undefined
        // A route that was reached may itself refuse, such as a wrong password; then it says where.
        const refused = status === 401 ? code?.code === 'not-signed-in' && code.path === '' : status === 403
        const got = refused ? status : 'let in'
        if (got !== wanted) told.push(`${route.method} ${route.path} answers ${who} with ${status}, not ${wanted}`)
      }
      for (const route of routes) {
        expect(route.access, `${route.method} ${route.path}`).toBeDefined()
        const open = route.access?.to === 'anybody'
        await check('nobody', route, await ask(bench.browser(), route), open ? 'let in' : 401)
        await check(
          'a false token',
          route,
          await ask(bench.browser(), route, { authorization: 'Bearer hasp_no' }),
          open ? 'let in' : 401,
        )
      }
      for (const role of ROLE_NAMES)
        for (const secondFactor of [false, true]) {
          const person = await bench.newcomer(admin, [role], { secondFactor })
          for (const route of routes) {
            if (ENDS_THE_SESSION.includes(route.path)) continue
            const wanted = expected(route.access as Access, { role, secondFactor })
            await check(`${role}, second factor ${secondFactor}`, route, await ask(person, route), wanted)
          }
          expect((await person.me())['signedIn']).toBe(true)
        }
      for (const scope of SCOPE_NAMES) {
        const made = await admin.done('POST', '/api/tokens', { name: 'Orders', scopes: [scope], days: 30 })
        for (const route of routes) {
          const { access } = route
          const wanted =
            access?.to === 'anybody' || (access?.to === 'those-who-may' && access.scope === scope) ? 'let in' : 403
          const headers = { authorization: `Bearer ${made['token']}` }
          await check(`a token with ${scope}`, route, await ask(bench.browser(), route, headers), wanted)
        }
      }
      expect(told).toEqual([])
    })

    it('that says nothing about who may call it keeps the program from starting', async () => {
      const bench = await peopleBench(shared)
      bench.app.get('/api/forgotten', (c) => c.text('open'))
      expect(() => assertEveryRouteDeclares(bench.app)).toThrow('GET /api/forgotten')
      const handler: Handler<AppEnv> = (c) => c.text('open')
      // @ts-expect-error a route without access does not compile
      expect(() => new Routes().get('/forgotten', handler)).toBeDefined()
    })

    it('stands in the OpenAPI document, which says who may call it, and no other does', async () => {
      const bench = await peopleBench(shared)
      const document = await bench.browser().done('GET', '/api/openapi.json')
      const paths = document['paths'] as Record<string, Record<string, { security?: object[]; 'x-who'?: string }>>
      const generic = (path: string) =>
        path.replace(/^\/api\/calc\/[a-z].*$/, '/api/calc/{}').replace(/\{[a-z]+\}|:[a-z]+(\{[^/]*\})?/g, '{}')
      const documented = new Map(
        Object.entries(paths).flatMap(([path, methods]) =>
          Object.entries(methods).flatMap(([method, operation]) =>
            method === 'parameters' ? [] : [[`${method.toUpperCase()} ${generic(path)}`, operation] as const],
          ),
        ),
      )
      const routes = routesOf(bench.app).filter(({ path }) => path.startsWith('/api/'))
      expect(new Set(documented.keys())).toEqual(
        new Set(routes.map(({ method, path }) => `${method} ${generic(path)}`)),
      )
      for (const { method, path, access } of routes) {
        const operation = documented.get(`${method} ${generic(path)}`)
        expect(operation?.['x-who'], path).toBeTruthy()
        expect(operation?.security?.length === 0, path).toBe(access?.to === 'anybody')
      }
    })
  })
})

describe('the table of roles', () => {
  it('gives every permission to the roles the trade brief names, and to no other', () => {
    for (const permission of Object.keys(PERMISSIONS) as Permission[])
      expect(
        ROLE_NAMES.filter((role) => (ROLES[role].may as readonly Permission[]).includes(permission)),
        permission,
      ).toEqual(EXPECTED[permission])
  })
})

/** Asked once by one's own test: after them the browser is nobody. */
const ENDS_THE_SESSION = ['/api/sign-out', '/api/account/sign-out-everywhere']
