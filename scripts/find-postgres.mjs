import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'

const DEBIAN_PLACE = '/usr/lib/postgresql'
const REMEDY =
  'No PostgreSQL from a Debian package was found for the tests of the store. Install it (apt-get install -y postgresql) or set POSTGRES_BIN to the folder of its programs.'

/** Folder of the newest PostgreSQL that a package installed: POSTGRES_BIN, else Debian's; `undefined` where there is none. */
export function findPostgres() {
  const named = process.env.POSTGRES_BIN
  if (named) return isServer(named) ? named : undefined
  if (!existsSync(DEBIAN_PLACE)) return undefined
  const releases = readdirSync(DEBIAN_PLACE).sort((a, b) => Number(b) - Number(a))
  return releases.map((release) => join(DEBIAN_PLACE, release, 'bin')).find(isServer)
}

/** Finds a server, or installs one where apt is at hand and we may. @returns its folder, or what to do about it */
export function ensurePostgres() {
  const found = findPostgres()
  if (found) return { path: found }
  if (process.env.POSTGRES_BIN) return { remedy: `POSTGRES_BIN holds no server: ${process.env.POSTGRES_BIN}` }
  if (process.getuid?.() !== 0 || spawnSync('apt-get', ['--version'], { stdio: 'ignore' }).status !== 0)
    return { remedy: REMEDY }
  process.stdout.write('No PostgreSQL package found. Installing it with apt-get.\n')
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  const apt = (...words) => spawnSync('apt-get', words, { stdio: 'inherit', env }).status === 0
  const path = apt('update') && apt('install', '-y', 'postgresql') ? findPostgres() : undefined
  return path ? { path } : { remedy: REMEDY }
}

const isServer = (folder) => existsSync(join(folder, 'postgres')) && existsSync(join(folder, 'initdb'))
