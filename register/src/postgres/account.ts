import { execFile } from 'node:child_process'
import { promisify } from 'node:util'
import { RegisterTrouble } from '../register-trouble.ts'

const run = promisify(execFile)
const NAME = 'haspwright'

/** A user of this machine that the server runs as. */
export interface Account {
  readonly uid: number
  readonly gid: number
}

/**
 * The account of the database server: our own, except for root, as whom PostgreSQL refuses to run. Root gets an account
 * made for this that can neither sign in nor read the works key.
 */
export async function serverAccount(): Promise<Account | undefined> {
  if (process.getuid?.() !== 0) return undefined
  const known = await lookUp(NAME)
  if (known !== undefined) return known
  try {
    await run('useradd', ['--system', '--user-group', '--no-create-home', '--shell', '/usr/sbin/nologin', NAME])
  } catch (cause) {
    // Another process may just have made it; some systems have no useradd but an account for PostgreSQL.
    const other = (await lookUp(NAME)) ?? (await lookUp('postgres'))
    if (other !== undefined) return other
    throw new RegisterTrouble(
      'PostgreSQL',
      `PostgreSQL does not run as root, and no account for it could be made. Make a user ${NAME}, start Haspwright as another user, or set DATABASE_URL.`,
      { cause },
    )
  }
  return lookUp(NAME)
}

async function lookUp(name: string): Promise<Account | undefined> {
  try {
    const ask = async (flag: string) => Number((await run('id', [flag, name])).stdout)
    return { uid: await ask('-u'), gid: await ask('-g') }
  } catch {
    return undefined
  }
}
