import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { performance } from 'node:perf_hooks'
import { parseArgs } from 'node:util'
import pg from 'pg'
import { HEATS_OF_LOCK, LOCKS_OF_LOAD } from '../register/dist/floor/genealogy.js'
import { openRegister } from '../register/dist/index.js'

/**
 * How fast codes are drawn, and how fast one lock, a furnace load and a page of orders are found among many. Asked for at ten million:
 * a lock by its blind code p99 under 5 ms, a furnace load under 200 ms, a page under 50 ms.
 * Usage: npm run bench:register -- --locks 10000000
 */

const { values: given } = parseArgs({ options: { locks: { type: 'string', default: '10000000' } } })
const locks = Number(given.locks)
if (!Number.isSafeInteger(locks) || locks < 10_000) throw new Error('--locks must be a whole number from 10000')
const PER_RACK = 200
const RACKS_PER_LOAD = 10
const PER_ORDER = 1000
const PER_LOT = 500
const data = mkdtempSync(join(tmpdir(), 'haspwright-bench-'))
const url = process.env.DATABASE_URL
const environment = url ? { DATABASE_URL: url } : {}

const BY_BLIND_CODE = `SELECT * FROM locks WHERE works_id = $1 AND blind_code = $2`
const PAGE_OF_ORDERS = `
  SELECT DISTINCT ON (id) * FROM orders
  WHERE works_id = $1 AND id < $2 ORDER BY id DESC, version DESC LIMIT 50`

const register = await openRegister(data, { environment })
const client = await ownerClient()
try {
  await drawing()
  await timed(`${locks} locks generated`, () => generate(client))
  await lookUps()
} finally {
  await client.end()
  await register.close()
  rmSync(data, { recursive: true, force: true })
}

async function drawing() {
  const batch = 1000
  const batches = 40
  const draw = (b) =>
    register.draw({
      idempotencyKey: `b${b}`,
      space: { id: 'bench', definition: {} },
      locks: Array.from({ length: batch }, (_, i) => ({
        id: `b${b}/${i}`,
        order: `b${b}`,
        name: `A-${i}`,
        lot: 'L',
        design: 'D',
      })),
      blindCodeOf: (number) => `N${number}`,
      actor: '',
    })
  await draw('warm')
  const started = performance.now()
  let next = 0
  const session = async () => {
    while (next < batches) {
      const outcome = await draw(next++)
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.issues))
    }
  }
  await Promise.all(Array.from({ length: 4 }, session))
  const seconds = (performance.now() - started) / 1000
  print('codes drawn, durable, in batches of 1000', `${Math.round((batch * batches) / seconds)} a second`)
}

/** The rows are those of drawn locks, written by the database itself. */
async function generate(db) {
  await db.query(
    `INSERT INTO locks (works_id, lock_id, order_id, revision, name, lot_id, design_id, blind_code) SELECT 'works', 'g' || n, 'o' || n / $2::bigint, 1, 'A-' || n, 'lot' || n / $3::bigint, 'HB50', upper(substr(md5(n::text), 1, 7))
     FROM generate_series(0, $1::bigint - 1) n`,
    [locks, PER_ORDER, PER_LOT],
  )
  await db.query(
    `INSERT INTO genealogy SELECT 'works', 'rack', 'r' || n / $2::bigint, 'lock', 'g' || n FROM generate_series(0, $1::bigint - 1) n`,
    [locks, PER_RACK],
  )
  await db.query(
    `INSERT INTO genealogy SELECT 'works', 'furnace-load', 'f' || n / $2::bigint, 'rack', 'r' || n FROM generate_series(0, $1::bigint - 1) n`,
    [locks / PER_RACK, RACKS_PER_LOAD],
  )
  await db.query(
    `INSERT INTO genealogy
     SELECT 'works', 'cut-lot', 'lot' || n, 'furnace-load', 'f' || n / $2::bigint FROM generate_series(0, $1::bigint - 1) n
     UNION ALL SELECT 'works', 'cut-lot', 'lot' || n / $4::bigint, 'rack', 'r' || n / $3::bigint FROM generate_series(0, $5::bigint - 1, $3::bigint) n
     UNION ALL SELECT 'works', 'bar-heat', 'h' || n / 20, 'cut-lot', 'lot' || n FROM generate_series(0, $1::bigint - 1) n`,
    [Math.ceil(locks / PER_LOT), (PER_RACK * RACKS_PER_LOAD) / PER_LOT, PER_RACK, PER_LOT, locks],
  )
  await db.query(
    `INSERT INTO orders SELECT 'works', 'o' || n, 1, '{}', now() - n * interval '1 minute' FROM generate_series(0, $1::bigint - 1) n`,
    [Math.ceil(locks / PER_ORDER)],
  )
  await db.query('VACUUM ANALYZE')
}

async function lookUps() {
  const blindCode = (n) => createHash('md5').update(`${n}`).digest('hex').slice(0, 7).toUpperCase()
  const load = (n) => `f${Math.floor(n / PER_RACK / RACKS_PER_LOAD)}`
  const page = (n) => `o${10 + (n % 80)}`
  await series('a lock by its blind code', 2000, BY_BLIND_CODE, blindCode)
  await series('all locks of a furnace load', 100, LOCKS_OF_LOAD, load)
  await series('bar heats of a lock', 2000, HEATS_OF_LOCK, (n) => `g${n}`)
  await series('a page of 50 orders', 200, PAGE_OF_ORDERS, page)
}

/** Each query is prepared once and run with what is looked for; what the database does for it is printed below. */
async function series(what, times, text, askedFor) {
  const took = []
  for (let i = 0; i < times; i++) {
    const values = ['works', askedFor(Math.floor(Math.random() * locks))]
    const started = performance.now()
    const { rows } = await client.query({ name: what, text, values })
    took.push(performance.now() - started)
    if (rows.length < 1) throw new Error(`${what}: not found`)
  }
  took.sort((a, b) => a - b)
  const at = (share) => took[Math.min(took.length - 1, Math.floor(took.length * share))].toFixed(2)
  print(what, `median ${at(0.5)} ms, p99 ${at(0.99)} ms, longest ${at(1)} ms`)
  const { rows } = await client.query(`EXPLAIN (COSTS OFF) ${text}`, ['works', askedFor(0)])
  for (const line of rows.map((row) => row['QUERY PLAN'])) if (/Scan/.test(line)) print(`  ${line.trim()}`, '')
}

async function timed(what, work) {
  const started = performance.now()
  await work()
  print(what, `${((performance.now() - started) / 1000).toFixed(1)} s`)
}

function print(what, figure) {
  process.stdout.write(`${`${what.padEnd(48)}${figure}`.trimEnd()}\n`)
}

async function ownerClient() {
  const { readFileSync } = await import('node:fs')
  const folder = join(data, 'database')
  const config = url
    ? { connectionString: url }
    : {
        host: '127.0.0.1',
        port: Number(readFileSync(join(folder, 'cluster', 'postmaster.pid'), 'utf8').split('\n')[3]),
        user: 'haspwright_owner',
        database: 'haspwright',
        password: readFileSync(join(folder, 'password'), 'utf8').trim(),
      }
  const owner = new pg.Client(config)
  await owner.connect()
  return owner
}
