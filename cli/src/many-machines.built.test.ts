import type { Design, Works } from '@haspwright/engine'
import { openRegister, type Register, WORKS_ID } from '@haspwright/register'
import { ownDatabase, type TestDatabase } from '@haspwright/register/testing'
import { expect, it, onTestFinished } from 'vitest'
import { letPeopleIn } from '../../scripts/let-people-in.mjs'
import { demoJson, start, temporaryFolder, WORKS_KEY } from './command-line.testing.ts'

const CLIENTS = 16
const ORDERS_EACH = 2
/** So many orders are acknowledged when one server and one worker are killed; the others are under way or to come. */
const KILL_AFTER = 6

type Json = Record<string, unknown>

/** A built program with a data folder of its own, as on a machine of its own. */
async function machine(words: string[], { environment }: TestDatabase) {
  const child = await start(words, { data: temporaryFolder(), database: environment })
  const printed: string[] = []
  child.stderr?.setEncoding('utf8').on('data', (piece: string) => printed.push(piece))
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  const kill = async () => {
    child.kill('SIGKILL')
    await ended
  }
  onTestFinished(kill)
  const firstLine = await new Promise<string>((resolve, reject) => {
    child.stdout?.once('data', (line: Buffer) => resolve(line.toString().trim()))
    ended.then((status) => reject(new Error(`ended with ${status}: ${printed.join('')}`)))
  })
  return { firstLine, kill, printed }
}

/** A server on a free port that works at no job itself. */
async function server(database: TestDatabase) {
  const { firstLine: address, ...rest } = await machine(['serve', '--port', '0', '--jobs', '0'], database)
  return { address, ...rest, link: () => /http:\S+\/invitation#\S+/.exec(rest.printed.join(''))?.[0] ?? '' }
}

const worker = (database: TestDatabase) => machine(['worker', '--jobs', '1'], database)

/** Does something in the register that the servers share. */
async function inRegisterOf({ environment }: TestDatabase, work: (register: Register) => Promise<void>): Promise<void> {
  const register = await openRegister(temporaryFolder(), {
    environment: { ...environment, HASPWRIGHT_WORKS_KEY: WORKS_KEY },
  })
  try {
    await work(register)
  } finally {
    await register.close()
  }
}

/** Somebody's browser, which keeps its cookies whichever server the proxy sends it to. */
type Visitor = Awaited<ReturnType<typeof letPeopleIn>>['everyRole']
function browserOf(visitor: Visitor) {
  const cookie = (visitor.storageState().cookies as { name: string; value: string }[])
    .map(({ name, value }) => `${name}=${value}`)
    .join('; ')
  return async (
    address: string,
    method: string,
    path: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ) => {
    const response = await fetch(`${address}${path}`, {
      method,
      headers: { cookie, origin: address, 'content-type': 'application/json', ...headers },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
    return { status: response.status, body: (await response.json()) as Json }
  }
}

it('two servers and three workers over one database: signed in at both, counted at both, and one of each killed loses and doubles nothing', async () => {
  const database = await ownDatabase()
  await inRegisterOf(database, async ({ designs, works }) => {
    await works.save(WORKS_ID, demoJson('works.json') as Works, { actor: 'R' })
    for (const id of ['HB50', 'RY40'])
      await designs.save(id, demoJson(`designs/${id.toLowerCase()}.json`) as Design, { actor: 'R' })
  })
  const workers = await Promise.all([worker(database), worker(database), worker(database)])
  const first = await server(database)
  const { everyRole, builder } = await letPeopleIn(first.address, first.link())
  const second = await server(database)
  const ask = browserOf(everyRole)

  await expectOneSession(ask, browserOf(builder), { first, second })
  await expectOneCount({ first, second })
  await expectOneDesign(ask, { first, second })

  const template = demoJson('orders/26-041-harbour.json')
  const orderOf = (client: number, n: number) => ({
    ...template,
    id: `27-${client}-${n}`,
    lines: [{ ...(template['lines'] as Json[])[0], quantity: 5 + client }],
  })
  const acknowledged = new Map<string, number>()
  let killed: Promise<unknown> | undefined
  let sentAgain = 0
  const handIn = async (order: ReturnType<typeof orderOf>, at: string) => {
    for (let address = at; ; address = second.address)
      try {
        const { status } = await ask(address, 'POST', '/api/orders', order)
        expect([200, 201]).toContain(status)
        acknowledged.set(order.id, 5 + Number(order.id.split('-')[1]))
        if (acknowledged.size >= KILL_AFTER) killed ??= Promise.all([first.kill(), workers[0]?.kill()])
        return
      } catch (cause) {
        // As a proxy would: the server is gone, so the same request goes to the other.
        if (address === second.address || killed === undefined) throw cause
        sentAgain++
      }
  }
  await Promise.all(
    Array.from({ length: CLIENTS }, async (_, client) => {
      for (let n = 0; n < ORDERS_EACH; n++)
        // Every fourth order is handed in at both servers at the same moment.
        if (client % 4 === 0)
          await Promise.all([first, second].map(({ address }) => handIn(orderOf(client, n), address)))
        else await handIn(orderOf(client, n), client % 2 === 0 ? first.address : second.address)
    }),
  )
  await killed
  expect(sentAgain).toBeGreaterThan(0)
  expect(acknowledged.size).toBe(CLIENTS * ORDERS_EACH)
  await expectAllThere(database, acknowledged)
  const { status, body } = await ask(second.address, 'POST', '/api/orders/27-2-0/plan', {})
  expect([status, body['planState']]).toEqual([200, 'current'])
  const leftOver = [second, ...workers.slice(1)].map(({ printed }) => printed.join(''))
  expect(leftOver.join('')).not.toMatch(/F-[2-9A-Z]{7}/)
  await expectSeenAtBoth(ask, { first: await server(database), second })
}, 600_000)

type Ask = ReturnType<typeof browserOf>
interface Both {
  readonly first: { readonly address: string }
  readonly second: { readonly address: string }
}

async function expectOneSession(ask: Ask, builder: Ask, { first, second }: Both) {
  for (const { address } of [first, second])
    expect(await ask(address, 'GET', '/api/me')).toMatchObject({ body: { signedIn: true, secondFactor: true } })
  expect((await builder(first.address, 'GET', '/api/orders')).status).toBe(200)
  expect((await builder(second.address, 'POST', '/api/account/sign-out-everywhere', {})).status).toBe(200)
  expect((await builder(first.address, 'GET', '/api/orders')).status).toBe(401)
}

/** What one server was asked for, another shows: plans and papers belong to the register. */
async function expectSeenAtBoth(ask: Ask, { first, second }: Both) {
  const listed = async ({ address }: { address: string }) => (await ask(address, 'GET', '/api/orders')).body['orders']
  expect(await listed(first)).toEqual(await listed(second))
  const [one, other] = await Promise.all(
    [first, second].map(({ address }) => ask(address, 'GET', '/api/orders/27-2-0/papers')),
  )
  expect(one?.status).toBe(200)
  expect(one?.body).toEqual(other?.body)
}

async function expectOneCount({ first, second }: Both) {
  const tries: number[] = []
  for (let i = 0; i < 11; i++) {
    const { address } = i % 2 === 0 ? first : second
    const body = JSON.stringify({ email: 'builder@tarnmoor.example', password: 'not the right one' })
    const headers = { 'content-type': 'application/json' }
    tries.push((await fetch(`${address}/api/sign-in`, { method: 'POST', body, headers })).status)
  }
  expect(tries).toEqual([...Array(10).fill(401), 429])
}

async function expectOneDesign(ask: Ask, { first, second }: Both) {
  const { content } = (await ask(first.address, 'GET', '/api/designs/RY40')).body as { content: Json }
  const follows = { 'if-match': '"1"' }
  const [mine, yours] = [
    { ...content, title: 'As one of them wants it' },
    { ...content, title: 'As the other wants it' },
  ]
  const saved = await Promise.all([
    ask(first.address, 'PUT', '/api/designs/RY40', mine, follows),
    ask(second.address, 'PUT', '/api/designs/RY40', yours, follows),
  ])
  expect(saved.map(({ status }) => status).sort()).toEqual([200, 412])
  const [won, lost] = saved[0]?.status === 200 ? [mine, yours] : [yours, mine]
  expect(saved.find(({ status }) => status === 412)?.body).toMatchObject({
    conflict: { stored: { version: 2, content: { title: won.title } }, given: { title: lost.title } },
  })
}

async function expectAllThere(database: TestDatabase, acknowledged: ReadonlyMap<string, number>) {
  await inRegisterOf(database, async (register) => {
    expect(await register.audit()).toMatchObject({ whole: true })
    expect(await register.auditCodes()).toEqual([])
    expect(await register.orders.ids()).toEqual(expect.arrayContaining([...acknowledged.keys()]))
  })
  const administrator = await database.administrator()
  const { rows } = await administrator.query<{ order_id: string; locks: bigint; codes: bigint }>(
    `SELECT order_id, count(*) AS locks, count(DISTINCT blind_code) AS codes FROM locks WHERE order_id LIKE '27-%' GROUP BY order_id`,
  )
  const counted = rows.map(({ order_id, locks, codes }) => [order_id, Number(locks), Number(codes)])
  expect(new Map(counted.map(([id, locks]) => [id, locks]))).toEqual(acknowledged)
  for (const [, locks, codes] of counted) expect(codes).toBe(locks)
  const { rows: twice } = await administrator.query(
    `SELECT blind_code FROM locks WHERE order_id LIKE '27-%' GROUP BY blind_code, design_id HAVING count(*) > 1`,
  )
  expect(twice).toEqual([])
  const { rows: events } = await administrator.query<{ subject: string }>(
    `SELECT subject FROM events WHERE kind = 'order.saved' AND subject LIKE '27-%'`,
  )
  expect(events.map(({ subject }) => subject).sort()).toEqual([...acknowledged.keys()].sort()) // each once
}
