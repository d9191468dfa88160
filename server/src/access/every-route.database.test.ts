import { onEveryServer } from '@haspwright/register/testing'
import type { Handler } from 'hono'
import { describe, expect, it } from 'vitest'
import { type Browser, peopleBench } from '../people/people-bench.testing.ts'
import type { Access } from './caller.ts'
import { PERMISSIONS, type Permission, ROLE_NAMES, ROLES, type Role, SCOPE_NAMES } from './roles.ts'
import { type AppEnv, assertEveryRouteDeclares, Routes, routesOf } from './routes.ts'

/** By hand, so that a slip in the table of roles is seen: who may call what, as the trade divides it. */
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
  'lots.open': ['engineer', 'planner'],
  'floor.record': ['engineer', 'operator', 'builder', 'inspector'],
  'lots.release': ['inspector'],
  'replacements.ask': ['registrar'],
  'replacements.decide': ['registrar'],
  'renewals.decide': ['registrar', 'administrator'],
  'people.manage': ['administrator'],
  'tokens.manage': ['administrator'],
}
const WANTS_SECOND_FACTOR: readonly Permission[] = [
  'codes.act',
  'codes.see',
  'codes.log',
  'replacements.decide',
  'renewals.decide',
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

type Wanted = 'let in' | 401 | 403

/** A route that was reached may itself refuse, such as a wrong password; then it says where. */
async function verdictOf(answer: Response): Promise<Wanted> {
  if (answer.status === 403) return 403
  if (answer.status !== 401) return 'let in'
  const { issues } = (await answer.json()) as { issues: { path: string }[] }
  return issues[0]?.path === '' ? 401 : 'let in'
}

describe('every route', () => {
  onEveryServer(({ shared }) => {
    /** The routes of a works of its own, and what is wrong with how they answered. */
    async function walk() {
      const bench = await peopleBench(shared)
      const routes = routesOf(bench.app).filter(({ path }) => path.startsWith('/api/'))
      const wrong: string[] = []
      async function check(who: string, browser: Browser, wantedOf: (access: Access) => Wanted, headers = {}) {
        for (const { method, path, access } of routes) {
          if (access === undefined) throw new Error(`${method} ${path} declares nothing`)
          if (browser.cookies.size > 0 && ENDS_THE_SESSION.includes(path)) continue
          const address = path.replace(/:[a-z]+(\{[^/]*\})?/g, 'none')
          const answer = await browser.send(method, address, method === 'GET' ? undefined : {}, headers)
          const [got, wanted] = [await verdictOf(answer), wantedOf(access)]
          if (got !== wanted) wrong.push(`${method} ${path} answers ${who} with ${answer.status}, not ${wanted}`)
        }
      }
      return { bench, routes, wrong, check }
    }

    it('answers nobody, and nobody with a false token, only where it is open to anybody', async () => {
      const { bench, routes, wrong, check } = await walk()
      expect(routes.length).toBeGreaterThan(68)
      const wanted = ({ to }: Access) => (to === 'anybody' ? 'let in' : 401)
      await check('nobody', bench.browser(), wanted)
      await check('a false token', bench.browser(), wanted, { authorization: 'Bearer hasp_no' })
      expect(wrong).toEqual([])
    })

    it('lets in whom it declares and nobody else: every role, without and with second factor', async () => {
      const { bench, wrong, check } = await walk()
      const admin = await bench.setUp()
      for (const role of ROLE_NAMES) {
        const person = await bench.newcomer(admin, [role])
        for (const secondFactor of [false, true]) {
          if (secondFactor) await person.enrol()
          await check(`${role}, second factor ${secondFactor}`, person, (access) =>
            expected(access, { role, secondFactor }),
          )
          expect(await person.me()).toMatchObject({ signedIn: true, secondFactor })
        }
      }
      expect(wrong).toEqual([])
    })

    it('lets in a token of the scope it names and no other', async () => {
      const { bench, wrong, check } = await walk()
      const admin = await bench.setUp()
      for (const scope of SCOPE_NAMES) {
        const made = await admin.done('POST', '/api/tokens', { name: 'Orders', scopes: [scope], days: 30 })
        const wanted = (access: Access) =>
          access.to === 'anybody' || (access.to === 'those-who-may' && access.scope === scope) ? 'let in' : 403
        await check(`a token with ${scope}`, bench.browser(), wanted, { authorization: `Bearer ${made['token']}` })
      }
      expect(wrong).toEqual([])
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
  it('gives every permission to the roles the trade gives it to, and to no other', () => {
    for (const permission of Object.keys(PERMISSIONS) as Permission[])
      expect(
        ROLE_NAMES.filter((role) => (ROLES[role].may as readonly Permission[]).includes(permission)),
        permission,
      ).toEqual(EXPECTED[permission])
  })
})

/** Asked once by one's own test: after them the browser is nobody. */
const ENDS_THE_SESSION = ['/api/sign-out', '/api/account/sign-out-everywhere']
