import { runServer } from './run-server.mjs'

/** Starts a server for the browser tests; every page address in them is relative to it. */
export default async function setUp() {
  const { address, stop } = await runServer()
  process.env.PLAYWRIGHT_TEST_BASE_URL = address
  return stop
}
