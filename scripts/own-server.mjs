import { fileURLToPath } from 'node:url'

/** What each worker of the browser tests has for itself: a server, and people who are signed in on it. Made anew at every run. */

const THIS_WORKER = Number(process.env.TEST_PARALLEL_INDEX ?? 0)

/** The variable that names the address of a worker's server. */
export const addressVariable = (worker) => `HASPWRIGHT_TEST_SERVER_${worker}`

/** The files that keep who is signed in, as a browser would. */
export function signedIn(worker) {
  const kept = (name) =>
    fileURLToPath(new URL(`../node_modules/.cache/haspwright/${name}-${worker}.json`, import.meta.url))
  return {
    /** Every role but the administrator's, with second factor. */
    everyRole: kept('every-role'),
    administrator: kept('administrator'),
    builder: kept('builder'),
  }
}

export const OWN_SERVER = process.env[addressVariable(THIS_WORKER)] ?? ''
export const SIGNED_IN = signedIn(THIS_WORKER)
