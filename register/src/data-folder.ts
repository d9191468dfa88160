import { resolve } from 'node:path'

export const DATA_VARIABLE = 'HASPWRIGHT_DATA'
const DEFAULT_DATA = 'haspwright-data'

/** The data folder: as named, else from the environment, else `haspwright-data` where the program was started. */
export function dataFolder(named: string | undefined, environment: NodeJS.ProcessEnv): string {
  return resolve(named ?? (environment[DATA_VARIABLE] || DEFAULT_DATA))
}
