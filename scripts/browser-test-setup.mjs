import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { letPeopleIn } from './let-people-in.mjs'
import { runServer } from './run-server.mjs'
import { SIGNED_IN } from './signed-in.mjs'

/** Starts a server for the browser tests and signs people in once; every page address in them is relative to it. */
export default async function setUp() {
  const { address, setUpLink, stop } = await runServer()
  try {
    for (const [name, person] of Object.entries(await letPeopleIn(address, setUpLink))) {
      mkdirSync(dirname(SIGNED_IN[name]), { recursive: true })
      writeFileSync(SIGNED_IN[name], JSON.stringify(person.storageState()), { mode: 0o600 })
    }
  } catch (cause) {
    await stop()
    throw cause
  }
  process.env.PLAYWRIGHT_TEST_BASE_URL = address
  return stop
}
