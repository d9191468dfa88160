import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { findPostgres } from '../../../scripts/find-postgres.mjs'
import { type EmbeddedServer, embeddedServer } from './embedded-server.ts'
import { PROGRAMS_VARIABLE } from './programs.ts'

/** A server the tests of the store run against. */
export interface TestServer {
  readonly name: string
  /** `undefined` when it is not on this machine; its tests then show as skipped. */
  readonly address?: EmbeddedServer['address']
}

declare module 'vitest' {
  interface ProvidedContext {
    readonly servers: readonly TestServer[]
  }
}

/** Starts the bundled server and the one of the Debian package, for all tests of the store together. */
export default async function setUp(project: TestProject) {
  const folder = mkdtempSync(join(tmpdir(), 'haspwright-servers-'))
  const debian = findPostgres()
  if (debian === undefined && process.env['CI'])
    throw new Error('The store is to be tested on both servers: install postgresql.')
  const started: EmbeddedServer[] = []
  const start = async (name: string, environment: NodeJS.ProcessEnv) => {
    const server = await embeddedServer(join(folder, name), environment)
    started.push(server)
    return server.address
  }
  const stop = async () => {
    for (const server of started) await server.release()
    rmSync(folder, { recursive: true, force: true })
  }
  try {
    project.provide('servers', [
      { name: 'the bundled server', address: await start('bundled', {}) },
      {
        name: "the server of Debian's package",
        ...(debian === undefined ? {} : { address: await start('packaged', { [PROGRAMS_VARIABLE]: debian }) }),
      },
    ])
  } catch (cause) {
    await stop()
    throw cause
  }
  return stop
}
