import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { letPeopleIn } from './let-people-in.mjs'
import { addressVariable, signedIn } from './own-server.mjs'
import { runServer } from './run-server.mjs'

/** Starts a server for each worker of the browser tests and signs people in on it. */
export default async function setUp({ workers }) {
  const stops = []
  const stop = () => Promise.all(stops.map((each) => each()))
  const begun = await Promise.allSettled(
    Array.from({ length: workers }, async (_, worker) => {
      const server = await runServer()
      stops.push(server.stop)
      process.env[addressVariable(worker)] = server.address
      keepSignedIn(worker, await letPeopleIn(server.address, server.setUpLink))
    }),
  )
  const failed = begun.find(({ status }) => status === 'rejected')
  if (failed === undefined) return stop
  await stop()
  throw failed.reason
}

function keepSignedIn(worker, people) {
  const files = signedIn(worker)
  for (const [name, person] of Object.entries(people)) {
    mkdirSync(dirname(files[name]), { recursive: true })
    writeFileSync(files[name], JSON.stringify(person.storageState()), { mode: 0o600 })
  }
}
