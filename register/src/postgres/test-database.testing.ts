import { randomBytes } from 'node:crypto'
import pg from 'pg'
import { describe, inject, onTestFinished } from 'vitest'
import type { EmbeddedServer } from './embedded-server.ts'
import { ADMINISTRATOR, OWNER } from './roles.ts'
import { valueTypes } from './value-types.ts'

type Address = EmbeddedServer['address']

/** The database that has the tables and nothing in them; others are copied from it. */
export const MIGRATED = 'migrated'
/** The database that tests share, each under a works of its own. */
export const SHARED = 'shared'

/** A database on a test server. */
export interface TestDatabase {
  readonly environment: { readonly DATABASE_URL: string }
  /** Somebody who may do everything, as whoever stole or runs the server. */
  administrator(): Promise<pg.Client>
  /** Every row of every table as text, as whoever stole the database has it. @param worksId of this works alone */
  everything(worksId?: string): Promise<string[]>
}

/** The databases of one server. */
export interface Databases {
  /** A database of one's own, without tables. @param from what it is a copy of: then with all that is there */
  newDatabase(from?: string): Promise<TestDatabase>
  /** A database to be copied from. Nobody may be connected while it is copied. */
  databaseToCopy(): Promise<DatabaseToCopy>
  /** The one that all tests share, each under a works of its own. */
  readonly shared: TestDatabase
}

/** A database that stays until the tests are over. */
export interface DatabaseToCopy extends TestDatabase {
  readonly name: string
}

/** Runs a suite against every server; one that is not on this machine shows as skipped. */
export function onEveryServer(suite: (databases: Databases) => void): void {
  for (const { name, address } of inject('servers'))
    if (address === undefined)
      describe.skip(`on ${name}: not on this machine`, () =>
        suite({ newDatabase: never, databaseToCopy: never, shared: nowhere }))
    else describe(`on ${name}`, () => suite(databasesOf(address)))
}

const databasesOf = (address: Address): Databases => ({
  newDatabase: (from) => newDatabase(address, from),
  databaseToCopy: () => toCopy(address),
  shared: at(address, SHARED),
})

const never = () => Promise.reject(new Error('there is no server'))
const nowhere: TestDatabase = { environment: { DATABASE_URL: '' }, administrator: never, everything: never }

/** The database that tests share on the bundled server. */
export const sharedDatabase = (): TestDatabase => at(bundled(), SHARED)

/** A database of one's own on the bundled server, gone when the test is over. @param from what it is a copy of: else of empty tables */
export const ownDatabase = (from: string = MIGRATED): Promise<TestDatabase> => newDatabase(bundled(), from)

/** A database on the bundled server to be copied from. Nobody may be connected while it is copied. */
export const databaseToCopy = (): Promise<DatabaseToCopy> => toCopy(bundled())

async function toCopy(address: Address): Promise<DatabaseToCopy> {
  const name = someName()
  await createDatabase(address, { name, from: MIGRATED })
  return { name, ...at(address, name) }
}

function bundled(): Address {
  const address = inject('servers')[0]?.address
  if (address === undefined) throw new Error('the bundled server was not started')
  return address
}

/** The name of a works that no other test has. */
export const someWorks = () => `works-${randomBytes(6).toString('hex')}`

const someName = () => `test_${randomBytes(6).toString('hex')}`

async function newDatabase(address: Address, from?: string): Promise<TestDatabase> {
  const name = someName()
  await createDatabase(address, { name, from })
  onTestFinished(() => asAdministrator(address, `DROP DATABASE ${name} WITH (FORCE)`))
  return at(address, name)
}

export function createDatabase(
  address: Address,
  { name, from }: { name: string; from?: string | undefined },
): Promise<void> {
  const template = from === undefined ? '' : `TEMPLATE ${from}`
  return asAdministrator(address, `CREATE DATABASE ${name} OWNER ${OWNER} ${template}`)
}

async function asAdministrator(address: Address, statement: string): Promise<void> {
  const administrator = await connected(address, 'postgres')
  await administrator.query(statement)
  await administrator.end()
}

export const urlOf = ({ host, port, password }: Address, database: string) =>
  `postgres://${OWNER}:${password}@${host}:${port}/${database}`

function at(address: Address, database: string): TestDatabase {
  async function administrator() {
    const client = await connected(address, database)
    onTestFinished(() => client.end())
    return client
  }
  return {
    environment: { DATABASE_URL: urlOf(address, database) },
    administrator,
    everything: async (worksId) => rowsOf(await administrator(), worksId),
  }
}

async function rowsOf(client: pg.Client, worksId: string | undefined): Promise<string[]> {
  const tables = await client.query<{ name: string }>(
    `SELECT table_name AS name FROM information_schema.columns WHERE table_schema = 'public' AND column_name = 'works_id'`,
  )
  const rows: string[] = []
  for (const { name } of tables.rows) {
    const of = `SELECT t::text AS row FROM ${name} t WHERE $1::text IS NULL OR works_id = $1`
    const found = await client.query<{ row: string }>(of, [worksId ?? null])
    rows.push(...found.rows.map(({ row }) => row))
  }
  return rows
}

async function connected(address: Address, database: string): Promise<pg.Client> {
  const client = new pg.Client({ ...address, user: ADMINISTRATOR, database, types: valueTypes })
  client.on('error', () => {}) // the database is dropped under it
  await client.connect()
  return client
}
