import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { findPostgres } from '../../../scripts/find-postgres.mjs'
import { migrate } from '../migrations/migrate.ts'
import { openDatabase } from './database.ts'
import { type EmbeddedServer, embeddedServer } from './embedded-server.ts'
import { PROGRAMS_VARIABLE } from './programs.ts'
import { createDatabase, MIGRATED, SHARED, urlOf } from './test-database.testing.ts'

/** A server that tests run against. */
export interface TestServer {
  readonly name: string
  /** `undefined` when it is not on this machine; its tests then show as skipped. */
  readonly address?: EmbeddedServer['address']
}

declare module 'vitest' {
  interface ProvidedContext {
    /** The bundled one first. */
    readonly servers: readonly TestServer[]
  }
}

/** Tests of the store itself run on both servers, all others on the bundled one. */
const ON_BOTH = 'database'

/**
 * Starts the servers of a test run, one of each kind, with the tables made once. They write nothing through to the disk: tests
 * that kill a server or cut its power start their own.
 */
export default async function setUp(project: TestProject) {
  const folder = mkdtempSync(join(tmpdir(), 'haspwright-servers-'))
  const started: EmbeddedServer[] = []
  const start = async (name: string, environment: NodeJS.ProcessEnv) => {
    const server = await embeddedServer(join(folder, name), environment, { isDurable: false })
    started.push(server)
    await makeTables(server.address)
    return server.address
  }
  const stop = async () => {
    for (const server of started) await server.release()
    rmSync(folder, { recursive: true, force: true })
  }
  try {
    const bundled = { name: 'the bundled server', address: await start('bundled', {}) }
    project.provide('servers', project.name === ON_BOTH ? [bundled, await packaged(start)] : [bundled])
  } catch (cause) {
    await stop()
    throw cause
  }
  return stop
}

async function packaged(
  start: (name: string, environment: NodeJS.ProcessEnv) => Promise<EmbeddedServer['address']>,
): Promise<TestServer> {
  const name = "the server of Debian's package"
  const programs = findPostgres()
  if (programs !== undefined) return { name, address: await start('packaged', { [PROGRAMS_VARIABLE]: programs }) }
  if (process.env['CI']) throw new Error('The store is to be tested on both servers: install postgresql.')
  return { name }
}

async function makeTables(address: EmbeddedServer['address']): Promise<void> {
  await createDatabase(address, { name: MIGRATED })
  const database = await openDatabase('', { DATABASE_URL: urlOf(address, MIGRATED) })
  await migrate(database)
  await database.close()
  await createDatabase(address, { name: SHARED, from: MIGRATED })
}
