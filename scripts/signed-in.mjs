import { fileURLToPath } from 'node:url'

/** Where the browser tests find who is signed in; made anew at every run. */
const kept = (name) => fileURLToPath(new URL(`../node_modules/.cache/haspwright/${name}.json`, import.meta.url))

export const SIGNED_IN = {
  /** Every role but the administrator's, with second factor. */
  everyRole: kept('every-role'),
  administrator: kept('administrator'),
  builder: kept('builder'),
}
