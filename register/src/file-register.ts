import { join, resolve } from 'node:path'
import { Design, Order, Works } from '@haspwright/engine'
import { FileAccessLog } from './access-log.ts'
import { FileCodeLedger, hasGivenOutCodes } from './code-ledger.ts'
import type { Register } from './register.ts'
import { RegisterTrouble } from './register-trouble.ts'
import { FileShelf } from './shelf.ts'
import { makeWorksKey, WORKS_KEY_VARIABLE, worksKeyFromEnvironment, worksKeyFromFile } from './works-key.ts'
import { withWriterLock } from './writer-lock.ts'

export const DATA_VARIABLE = 'HASPWRIGHT_DATA'
const DEFAULT_DATA = 'haspwright-data'

/** The data folder: as named, else from the environment, else `haspwright-data` where the program was started. */
export function dataFolder(named: string | undefined, environment: NodeJS.ProcessEnv): string {
  return resolve(named ?? (environment[DATA_VARIABLE] || DEFAULT_DATA))
}

export interface FileRegisterOptions {
  readonly environment?: NodeJS.ProcessEnv
  readonly now?: () => Date
  /** Told the file of a works key that was just made: somebody must put a copy in a safe place. */
  readonly onNewKey?: (file: string) => void
}

/** Opens the register kept as files in a data folder. Nothing is written before something is stored. */
export function openFileRegister(
  data: string,
  { environment = process.env, now = () => new Date(), onNewKey = () => {} }: FileRegisterOptions = {},
): Register {
  const keyFile = join(data, 'works.key')

  async function worksKey(): Promise<string> {
    const key = worksKeyFromEnvironment(environment) ?? (await worksKeyFromFile(keyFile))
    return key ?? withWriterLock(data, newKey)
  }

  async function newKey(): Promise<string> {
    const meanwhile = await worksKeyFromFile(keyFile)
    if (meanwhile !== undefined) return meanwhile
    if (await hasGivenOutCodes(data))
      throw new RegisterTrouble(
        keyFile,
        `The works key is missing, though codes were given out with it. Put it back from its safe copy, or set ${WORKS_KEY_VARIABLE}.`,
      )
    const made = await makeWorksKey(keyFile)
    onNewKey(keyFile)
    return made
  }

  const access = new FileAccessLog(join(data, 'access-log.jsonl'), now)
  return {
    designs: new FileShelf(data, 'designs', Design),
    orders: new FileShelf(data, 'orders', Order),
    works: new FileShelf(data, 'works', Works),
    codes: new FileCodeLedger(data, { worksKey, access, now }),
    access,
    worksKey,
  }
}
