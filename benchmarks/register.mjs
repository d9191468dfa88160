import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { performance } from 'node:perf_hooks'
import pg from 'pg'
import { openRegister } from '../register/dist/index.js'

/** How fast codes are drawn, and how fast one lock, a furnace load and a page of orders are found among many. Usage: register.mjs [LOCKS] */

const locks = Number(process.argv[2] ?? 10_000_000)
const PER_RACK = 200
const RACKS_PER_LOAD = 10
const PER_ORDER = 1000
const data = mkdtempSync(join(tmpdir(), 'haspwright-bench-'))
const url = process.env.DATABASE_URL
const environment = url ? { DATABASE_URL: url } : {}

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
    `INSERT INTO locks (works_id, lock_id, order_id, revision, name, lot_id, design_id, blind_code) SELECT 'works', 'g' || n, 'o' || n / $2::bigint, 1, 'A-' || n, 'lot' || n / 500, 'HB50', upper(substr(md5(n::text), 1, 7))
     FROM generate_series(0, $1::bigint - 1) n`,
    [locks, PER_ORDER],
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
    `INSERT INTO orders SELECT 'works', 'o' || n, 1, '{}', now() - n * interval '1 minute' FROM generate_series(0, $1::bigint - 1) n`,
    [Math.ceil(locks / PER_ORDER)],
  )
  await db.query('VACUUM ANALYZE')
}

async function lookUps() {
  await series('a lock by its blind code', 2000, async (n) => {
    const { rows } = await client.query(
      `SELECT * FROM locks WHERE works_id = 'works' AND blind_code = upper(substr(md5($1::text), 1, 7))`,
      [n],
    )
    if (rows.length < 1) throw new Error('not found')
  })
  await series('all locks of a furnace load', 100, async (n) => {
    const { rows } = await client.query(
      `SELECT l.* FROM genealogy rack
       JOIN genealogy lock ON lock.works_id = rack.works_id AND lock.parent_kind = 'rack' AND lock.parent_id = rack.child_id
       JOIN locks l ON l.works_id = lock.works_id AND l.lock_id = lock.child_id
       WHERE rack.works_id = 'works' AND rack.parent_kind = 'furnace-load' AND rack.parent_id = 'f' || $1::bigint
         AND rack.child_kind = 'rack' AND lock.child_kind = 'lock'`,
      [Math.floor(n / PER_RACK / RACKS_PER_LOAD)],
    )
    if (rows.length < 1) throw new Error('not found')
  })
  await series('a page of 50 orders', 200, async () => {
    await client.query(
      `SELECT DISTINCT ON (id) id, version, saved_at FROM orders
       WHERE works_id = 'works' AND id > 'o' || floor(random() * 1000) ORDER BY id, version DESC LIMIT 50`,
    )
  })
}

async function series(what, times, ask) {
  const took = []
  for (let i = 0; i < times; i++) {
    const n = Math.floor(Math.random() * locks)
    const started = performance.now()
    await ask(n)
    took.push(performance.now() - started)
  }
  took.sort((a, b) => a - b)
  const at = (share) => took[Math.min(took.length - 1, Math.floor(took.length * share))].toFixed(2)
  print(what, `median ${at(0.5)} ms, p99 ${at(0.99)} ms`)
}

async function timed(what, work) {
  const started = performance.now()
  await work()
  print(what, `${((performance.now() - started) / 1000).toFixed(1)} s`)
}

function print(what, figure) {
  process.stdout.write(`${what.padEnd(48)}${figure}\n`)
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
