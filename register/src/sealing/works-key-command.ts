import { exec } from 'node:child_process'
import { RegisterTrouble } from '../register-trouble.ts'
import { checkedWorksKey, WORKS_KEY_VARIABLE } from '../works-key.ts'

/** A command line that prints the works key, such as one that asks a vault or a token. */
const WORKS_KEY_COMMAND = `${WORKS_KEY_VARIABLE}_COMMAND`
const PATIENCE_MS = 60_000
const MOST_BYTES = 4096

/**
 * The works key as a command prints it, `undefined` where none is named. Neither what it prints nor what it says is repeated.
 * @throws RegisterTrouble when the command fails or prints no key
 */
export async function worksKeyFromCommand(environment: NodeJS.ProcessEnv): Promise<string | undefined> {
  const command = environment[WORKS_KEY_COMMAND]?.trim()
  if (command === undefined || command === '') return undefined
  const printed = await new Promise<string>((resolve, reject) => {
    exec(command, { env: environment, timeout: PATIENCE_MS, maxBuffer: MOST_BYTES }, (failure, out) =>
      // No cause: it would carry the output along.
      failure === null
        ? resolve(out)
        : reject(
            new RegisterTrouble(WORKS_KEY_COMMAND, 'The command that gives the works key failed. Run it by hand.'),
          ),
    ).stdin?.end()
  })
  return checkedWorksKey(WORKS_KEY_COMMAND, printed.trim())
}
