import { calculations } from '@haspwright/engine'
import { ownDatabase } from '@haspwright/register/testing'
import fc from 'fast-check'
import type pg from 'pg'
import { expect, it } from 'vitest'
import type { Access } from '../access/caller.ts'
import { ROLE_NAMES } from '../access/roles.ts'
import { routesOf } from '../access/routes.ts'
import { demoJson, WORKS_KEY } from '../app.testing.ts'
import { type Browser, PASSWORD, peopleBench } from '../people/people-bench.testing.ts'
import { awkwardBytes, awkwardSegment, fitting, type Json, MARK, spoilt, withNul } from './bad-input.testing.ts'

const SEED = 20_26_11
const TIMES = 10
/** The shortest of the demo's orders: its papers are soonest made. */
const ORDER = '26-047'

/** Written although a request is refused: counts of tries, sessions, questions put to a passkey, wrong codes of a second factor. */
const WRITTEN_ANYWAY = ['rate_limits', 'account_sessions', 'account_challenges', 'account_second_factors', 'jobs']
/** What is sent here are passwords, codes and links: not a letter of it comes back. */
const SECRET_PLACES = /^\/api\/(sign-in|account|invitations\/(open|accept))/
/** They end the session they are asked in. */
const ENDS_THE_SESSION = ['/api/sign-out', '/api/account/sign-out-everywhere']

interface Operation {
  readonly method: string
  readonly path: string
  readonly body: fc.Arbitrary<unknown> | undefined
  readonly query: readonly string[]
  readonly access: Access
}

interface Request {
  readonly address: string
  readonly headers: Record<string, string>
  readonly body: string | Uint8Array | undefined
}

it('answers bad input on every route with issues, stores nothing of it and gives no secret back', async () => {
  const { bench, operations, browserFor, known } = await everyOperation()
  const administrator = await bench.database.administrator()
  const stored = await storedIn(administrator)
  let before = await stored()
  const wrong: string[] = []
  let refused = 0
  for (const operation of operations) {
    await administrator.query('DELETE FROM rate_limits')
    for (const request of fc.sample(requestsTo(operation, known), { seed: SEED, numRuns: TIMES })) {
      const { method, path } = operation
      const answer = await browserFor(operation).send(method, request.address, request.body, request.headers)
      const text = await answer.text()
      const troubles = troublesOf(operation, { status: answer.status, text })
      const after = await stored()
      if (answer.status >= 400) {
        refused++
        if (after !== before) troubles.push('something was stored')
      }
      before = after
      for (const trouble of troubles)
        wrong.push(`${trouble}: ${method} ${path}\n${shown(request)}\n${text.slice(0, 300)}`)
    }
  }
  expect(wrong).toEqual([])
  expect(refused).toBeGreaterThan(operations.length * TIMES * 0.5)
  const log = bench.logged.join('\n')
  expect(log).not.toContain(MARK)
  expect(log).not.toContain(WORKS_KEY)
  expect(await bench.register.audit()).toMatchObject({ whole: true })
  expect(await bench.register.auditCodes()).toEqual([])
}, 300_000)

/** A works with the demo in it, somebody for every route, and numbers that are there. */
async function everyOperation() {
  const database = await ownDatabase()
  const bench = { ...(await peopleBench(database, { demo: true })), database }
  const admin = await bench.setUp()
  const worker = await bench.newcomer(
    admin,
    ROLE_NAMES.filter((role) => role !== 'administrator'),
    { secondFactor: true },
  )
  const leaver = await bench.newcomer(admin, ['operator'])
  const nobody = bench.browser()
  const plan = await bench.orders.plan(ORDER)
  const reserved = await worker.done('POST', '/api/codes/HB50/reservations', {
    from: '900',
    to: '909',
    reason: 'kept for the fair',
  })
  const lot = plan?.lots[0]?.id ?? ''
  await worker.done('PUT', `/api/orders/${ORDER}/lots/${lot}`)
  await worker.done('PUT', '/api/loads/F-1', { ...RECORDS['/api/loads/{load}'], lots: [lot] })
  await worker.done('PUT', `/api/lots/${lot}/operations/O-1`, RECORDS['/api/lots/{lot}/operations/{operation}'])
  const leaverId = String((await leaver.me())['id'])
  const renewal = await admin.done('POST', `/api/people/${leaverId}/renewals`, {
    renews: 'password',
    reason: 'forgotten',
  })
  const known: Readonly<Record<string, string>> = {
    orders: ORDER,
    designs: 'HB50',
    codes: 'HB50',
    people: leaverId,
    person: leaverId,
    renewals: (renewal['renewal'] as { id: string }).id,
    lot,
    load: 'F-1',
    operation: 'O-1',
    lock: 'A-001',
    reservations: (reserved['done'] as { id: string }).id,
    schemas: 'order.json',
  }
  const document = await nobody.done('GET', '/api/openapi.json')
  const accessOf = new Map(
    routesOf(bench.app).map(({ method, path, access }) => [`${method} ${generic(path)}`, access]),
  )
  const operations = operationsOf(document, (route) => {
    const access = accessOf.get(route)
    if (access === undefined) throw new Error(`${route} declares nothing`)
    return access
  })
  const browserFor = ({ path, access }: Operation): Browser => {
    if (access.to === 'anybody') return nobody
    if (ENDS_THE_SESSION.includes(path)) return leaver
    return access.to === 'those-who-may' && access.permission.some((each) => each.endsWith('.manage')) ? admin : worker
  }
  return { bench, operations, browserFor, known }
}

const generic = (path: string) =>
  path.replace(/^\/api\/calc\/[a-z].*$/, '/api/calc/{}').replace(/\{[a-z]+\}|:[a-z]+(\{[^/]*\})?/g, '{}')

function operationsOf({ paths, components }: Json, accessOf: (route: string) => Access): Operation[] {
  const { schemas } = components as { schemas: Json }
  return Object.entries(paths as Record<string, Json>).flatMap(([path, item]) =>
    Object.entries(item)
      .filter(([method]) => method !== 'parameters')
      .map(([method, operation]) => {
        const { parameters = [], requestBody } = operation as { parameters?: Json[]; requestBody?: { content: Json } }
        const all = [...parameters, ...((item['parameters'] as Json[] | undefined) ?? [])]
        const body = requestBody?.content['application/json'] as { schema: Json } | undefined
        return {
          method: method.toUpperCase(),
          path,
          access: accessOf(`${method.toUpperCase()} ${generic(path)}`),
          query: all.filter((parameter) => parameter['in'] === 'query').map(({ name }) => String(name)),
          body: body && (wholeBody(path, method) ?? fitting(body.schema, schemas)),
        }
      }),
  )
}

/** What is right to record on the floor: numbers, names and times are not made from their schema. */
const RECORDS: Readonly<Record<string, Json>> = {
  '/api/lots/{lot}/heats': { heat: 'heat 4711' },
  '/api/lots/{lot}/operations/{operation}': { step: 'harden', load: 'F-1', startedAt: '2026-11-20T06:00:00+01:00' },
  '/api/operations/{operation}/end': { endedAt: '2026-11-20T08:00:00+01:00' },
  '/api/lots/{lot}/measurements/{measurement}': {
    ...{ characteristic: 'shackle hardness', value: 41.5, unit: 'HRC', gauge: 'RT-2' },
    ...{ measuredAt: '2026-11-20T09:00:00Z', replaces: 'none' },
  },
  '/api/loads/{load}': {
    ...{ kind: 'furnace', equipment: 'pit furnace', lots: ['26-041-A1'] },
    startedAt: '2026-11-20T05:00:00+01:00',
  },
  '/api/loads/{load}/end': { endedAt: '2026-11-20T08:00:00+01:00' },
}

/** Bodies too large to be made from their schema, and records of the floor, are spoilt from ones that are right. */
function wholeBody(path: string, method: string): fc.Arbitrary<unknown> | undefined {
  const record = RECORDS[path]
  if (record !== undefined) return fc.constant(record)
  if (path === '/api/orders') return fc.constant({ ...(demoJson('orders/26-041-harbour.json') as Json), id: '26-090' })
  if (path === '/api/designs/{id}' && method === 'put') return fc.constant(demoJson('designs/hb50.json'))
  const calculation = calculations.find(({ id }) => path === `/api/calc/${id}`)
  return calculation && fc.constantFrom(...calculation.examples.map(({ input }) => input))
}

function requestsTo({ method, path, body, query }: Operation, known: Readonly<Record<string, string>>) {
  const names = [...path.matchAll(/([a-z-]+)\/\{([a-z]+)\}/g)]
  const segments = fc.tuple(
    ...names.map(([, place = '', name = '']) =>
      fc.oneof(fc.constant(encodeURIComponent(known[name] ?? known[place] ?? 'none')), awkwardSegment),
    ),
  )
  // A version that is there would have a solid built, which takes half a minute.
  const queries = fc.tuple(...query.map(() => awkwardSegment.filter((text) => !/^1$/.test(text))))
  return fc
    .record({ segments, queries, sent: method === 'GET' ? fc.constant(undefined) : sent(body), follows: awkwardTag })
    .map(({ segments: filled, queries: asked, sent: parts, follows }): Request => {
      const place = filled.reduce((address, segment) => address.replace(/\{[a-z]+\}/, () => segment), path)
      const said = query.map((name, i) => `${name}=${asked[i]}`).join('&')
      return {
        address: said === '' ? place : `${place}?${said}`,
        headers: { ...(parts && { 'content-type': parts.type }), ...(method === 'PUT' && { 'if-match': follows }) },
        body: parts?.body,
      }
    })
}

const awkwardTag = fc.constantFrom('"1"', '"0"', '"99999999999999999999"', '*', 'W/"1"', '"', '"-1"', '"1.5"')

function sent(body: fc.Arbitrary<unknown> = fc.constant({})) {
  const json = fc.oneof({ weight: 5, arbitrary: spoilt(body) }, withNul(body)).map((value) => ({
    type: 'application/json',
    body: JSON.stringify(value) as string | Uint8Array,
  }))
  const bytes = awkwardBytes.map((raw) => ({ type: 'application/json', body: raw as string | Uint8Array }))
  const otherwise = fc
    .tuple(
      fc.constantFrom(
        'text/plain',
        'text/csv',
        'multipart/form-data; boundary=x',
        'application/x-www-form-urlencoded',
        'a/b',
      ),
      fc.oneof(awkwardBytes, fc.constant(Buffer.from(`order;${MARK}\n"`))),
    )
    .map(([type, raw]) => ({ type, body: raw as string | Uint8Array }))
  return fc.oneof({ weight: 6, arbitrary: json }, { weight: 2, arbitrary: bytes }, { weight: 1, arbitrary: otherwise })
}

/** @returns what tells rows of every table and the last change of each, as one text */
async function storedIn(database: pg.Client): Promise<() => Promise<string>> {
  const { rows: tables } = await database.query<{ name: string }>(
    `SELECT relname AS name FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND relname <> ALL ($1)`,
    [WRITTEN_ANYWAY],
  )
  const each = tables.map(({ name }) => `SELECT '${name}' AS name, count(*), max(xmin::text::bigint) FROM ${name}`)
  const statement = { name: 'stored', text: each.join(' UNION ALL ') }
  return async () => {
    const { rows } = await database.query<Record<string, unknown>>(statement)
    return rows.map((row) => Object.values(row).join(' ')).join('\n')
  }
}

function troublesOf({ path }: Operation, { status, text }: { status: number; text: string }): string[] {
  const troubles: string[] = []
  if (status >= 500) troubles.push(`answers ${status}`)
  else if (status >= 400 && !isTyped(text)) troubles.push(`answers ${status} without issues`)
  if (status >= 400 && text.length > 200_000) troubles.push(`answers with ${text.length} characters`)
  if (/Sign in first|Your role does not reach this/.test(text) && !ENDS_THE_SESSION.includes(path))
    troubles.push('was not reached')
  if (text.includes(WORKS_KEY) || text.includes(PASSWORD)) troubles.push('tells a secret')
  if (SECRET_PLACES.test(path) && text.includes(MARK)) troubles.push('says a secret back')
  return troubles
}

function isTyped(text: string): boolean {
  try {
    const { issues } = JSON.parse(text) as { issues: Json[] }
    const words = issues.flatMap(({ path, code, message }) => [path, code, message])
    return words.length > 0 && words.every((word) => typeof word === 'string')
  } catch {
    return false
  }
}

const shown = ({ address, headers, body }: Request) =>
  `${address.slice(0, 200)} ${JSON.stringify(headers)} ${Buffer.from(body ?? '')
    .toString()
    .slice(0, 400)}`
