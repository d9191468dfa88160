import { randomBytes } from 'node:crypto'
import pg from 'pg'
import { describe, inject, onTestFinished } from 'vitest'
import type { EmbeddedServer } from './embedded-server.ts'
import { ADMINISTRATOR, DATABASE, OWNER } from './roles.ts'
import { valueTypes } from './value-types.ts'

type Address = EmbeddedServer['address']

/** A database of its own on a server, gone when the test is over. */
export interface TestDatabase {
  readonly environment: { readonly DATABASE_URL: string }
  /** Somebody who may do everything, as whoever stole or runs the server. */
  administrator(): Promise<pg.Client>
}

/** A database of one's own, or the one all tests of a server share, each under a works of its own. */
export interface Databases {
  newDatabase(): Promise<TestDatabase>
  readonly shared: TestDatabase
}

/** Runs a suite against every server; one that is not on this machine shows as skipped. */
export function onEveryServer(suite: (databases: Databases) => void): void {
  for (const { name, address } of inject('servers'))
    if (address === undefined)
      describe.skip(`on ${name}: not on this machine`, () => suite({ newDatabase: never, shared: nowhere }))
    else describe(`on ${name}`, () => suite({ newDatabase: () => newDatabase(address), shared: at(address, DATABASE) }))
}

const never = () => Promise.reject(new Error('there is no server'))
const nowhere: TestDatabase = { environment: { DATABASE_URL: '' }, administrator: never }

/** The name of a works that no other test has. */
export const someWorks = () => `works-${randomBytes(6).toString('hex')}`

async function newDatabase(address: Address): Promise<TestDatabase> {
  const name = `test_${randomBytes(6).toString('hex')}`
  const control = await connected(address, 'postgres')
  await control.query(`CREATE DATABASE ${name} OWNER ${OWNER}`)
  onTestFinished(async () => {
    await control.query(`DROP DATABASE ${name} WITH (FORCE)`)
    await control.end()
  })
  return at(address, name)
}

function at(address: Address, database: string): TestDatabase {
  const { host, port, password } = address
  return {
    environment: { DATABASE_URL: `postgres://${OWNER}:${password}@${host}:${port}/${database}` },
    async administrator() {
      const client = await connected(address, database)
      onTestFinished(() => client.end())
      return client
    },
  }
}

async function connected(address: Address, database: string): Promise<pg.Client> {
  const client = new pg.Client({ ...address, user: ADMINISTRATOR, database, types: valueTypes })
  client.on('error', () => {}) // the database is dropped under it
  await client.connect()
  return client
}
