import { type ChildProcessByStdio, spawn } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { chown, mkdir, open, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { platform } from 'node:os'
import { join, parse } from 'node:path'
import type { Readable, Writable } from 'node:stream'
import { onDisk, RegisterTrouble } from '../register-trouble.ts'
import { writeWhole } from '../whole-file.ts'
import type { Account } from './account.ts'
import type { Programs } from './programs.ts'
import { ADMINISTRATOR, DATABASE, OWNER, SERVER } from './roles.ts'

/** Where any account may be. */
export const ROOT = parse(process.cwd()).root
/** Only this machine, and only with the password. */
const WHO_MAY_CONNECT = 'host all all 127.0.0.1/32 scram-sha-256\n'

/** The places of an embedded server in its folder. */
export interface ClusterPlaces {
  readonly folder: string
  readonly cluster: string
  readonly password: string
  readonly log: string
}

export const clusterPlaces = (folder: string): ClusterPlaces => ({
  folder,
  cluster: join(folder, 'cluster'),
  password: join(folder, 'password'),
  log: join(folder, 'log'),
})

/** Are there data of a server already? */
export async function isCluster({ cluster }: ClusterPlaces): Promise<boolean> {
  return readFile(join(cluster, 'PG_VERSION')).then(
    () => true,
    () => false,
  )
}

/**
 * The password of the roles, made with the cluster.
 * @throws RegisterTrouble when there are data and no password
 */
export async function clusterPassword({ password, ...places }: ClusterPlaces): Promise<string> {
  const kept = await readFile(password, 'utf8').catch((cause: NodeJS.ErrnoException) => {
    if (cause.code === 'ENOENT') return undefined
    throw new RegisterTrouble(password, 'The password of the database cannot be read. Ask for the right to read it.', {
      cause,
    })
  })
  if (kept !== undefined) return kept.trim()
  if (await isCluster({ password, ...places }))
    throw new RegisterTrouble(password, 'The password of the database is missing. Put it back from its safe copy.')
  const made = randomBytes(24).toString('base64url')
  await writeWhole(password, `${made}\n`, 0o600)
  return made
}

/** What making a data folder takes. */
interface Making {
  readonly programs: Programs
  readonly password: string
  readonly account: Account | undefined
  readonly isDurable: boolean
}

/** Makes the data folder of a server with our roles and database in it: whole, or not there at all. */
export async function makeCluster(
  places: ClusterPlaces,
  { programs, password, account, isDurable }: Making,
): Promise<void> {
  const unfinished = join(places.folder, '.unfinished-cluster')
  await onDisk(places.folder, async () => {
    await rm(unfinished, { recursive: true, force: true })
    await mkdir(unfinished, { mode: 0o700 })
    if (account !== undefined) await chown(unfinished, account.uid, account.gid)
  })
  const does = async (what: string, program: string, words: (folder: string) => readonly string[], input = '') => {
    const said = await overFolder(unfinished, account, ({ name, handle }) =>
      speak(program, words(name), { account, handle, input }),
    )
    if (said.status === 0 && !/\b(ERROR|FATAL|PANIC):/.test(said.errors)) return
    throw new RegisterTrouble(places.folder, `${whyNot(said.errors)} (${what})`, { cause: new Error(said.errors) })
  }
  await does('making the database', programs.initdb, (folder) => [
    ...['-D', folder, '-U', ADMINISTRATOR, '--auth=reject'],
    ...['--encoding=UTF8', '--no-locale', '--no-instructions', '--no-sync'],
  ])
  await onDisk(unfinished, () => writeFile(join(unfinished, 'pg_hba.conf'), WHO_MAY_CONNECT))
  await does(
    'making its roles',
    programs.postgres,
    (folder) => ['--single', '-D', folder, '-c', 'log_min_error_statement=panic', '-c', 'fsync=off', 'postgres'],
    firstStatements(password),
  )
  // Once, at the end: until it has its name nobody takes it for data.
  if (isDurable) await does('writing it to the disk', programs.initdb, (folder) => ['--sync-only', '-D', folder])
  await onDisk(places.cluster, () => rename(unfinished, places.cluster))
}

/** One statement a line, as the single-user mode reads them: so the password is in no command line and no file of ours. */
function firstStatements(password: string): string {
  return [
    `ALTER ROLE ${ADMINISTRATOR} PASSWORD '${password}';`,
    `CREATE ROLE ${OWNER} LOGIN PASSWORD '${password}';`,
    `CREATE ROLE ${SERVER} LOGIN PASSWORD '${password}';`,
    `GRANT ${SERVER} TO ${OWNER};`,
    `CREATE DATABASE ${DATABASE} OWNER ${OWNER};`,
    `REVOKE ALL ON DATABASE ${DATABASE} FROM PUBLIC;`,
    `GRANT CONNECT ON DATABASE ${DATABASE} TO ${SERVER};`,
    '',
  ].join('\n')
}

/**
 * Starts a program of the server over its folder, as its account. That account may not be let into a folder above, a home
 * for example: it is then handed the folder itself, open, and names it by that.
 */
export async function overFolder<T>(
  cluster: string,
  account: Account | undefined,
  start: (given: { name: string; handle: number | 'ignore' }) => T | Promise<T>,
): Promise<T> {
  if (account === undefined || platform() !== 'linux') return start({ name: cluster, handle: 'ignore' })
  const handle = await open(cluster, 'r')
  try {
    return await start({ name: `/proc/self/fd/${HANDED_OVER}`, handle: handle.fd })
  } finally {
    await handle.close()
  }
}

/** The place after standard input, output and error in a child's list of open files. */
const HANDED_OVER = 3

/** Nothing of ours, above all no works key, goes to the server. */
export const serverEnvironment = (): NodeJS.ProcessEnv => ({
  PATH: process.env['PATH'],
  LC_ALL: 'C',
  TZ: 'UTC',
  ...(platform() === 'win32' ? { SystemRoot: process.env['SystemRoot'] } : {}),
})

interface Spoken {
  readonly status: number | null
  readonly errors: string
}

function speak(
  program: string,
  words: readonly string[],
  { account, handle, input }: { account: Account | undefined; handle: number | 'ignore'; input: string },
): Promise<Spoken> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, words, {
      cwd: ROOT,
      ...account,
      env: serverEnvironment(),
      stdio: ['pipe', 'ignore', 'pipe', handle],
    }) as ChildProcessByStdio<Writable, null, Readable> // as the list above says
    const errors: string[] = []
    child.stderr.setEncoding('utf8').on('data', (piece: string) => errors.push(piece))
    child.once('error', reject)
    child.once('close', (status) => resolve({ status, errors: errors.join('') }))
    child.stdin.on('error', () => {}) // it ended before it read all: its status says why
    child.stdin.end(input)
  })
}

/** What kept a server from coming up, in plain words, from what it said. */
export function whyNot(said: string): string {
  const [, words] = REASONS.find(([pattern]) => pattern.test(said)) ?? []
  return words ?? 'The database server did not start. What it said is in the file log beside its data.'
}

const REASONS: readonly (readonly [RegExp, string])[] = [
  [
    /Address already in use|could not bind/,
    'Something else already listens on the port of the database. Stop it, or set HASPWRIGHT_DATABASE_PORT to another.',
  ],
  [/No space left|disk full/i, 'The disk is full. Make room and try again.'],
  [/Read-only file system/, 'It stands on a disk that can only be read. Take another folder.'],
  [
    /incompatible with server|initialized by PostgreSQL version/,
    'These data were made by another version of PostgreSQL. Start that version, back up, and restore with this one.',
  ],
  [
    /Permission denied/,
    'The database server may not write here. Ask for the right to write there, or take another folder.',
  ],
  [
    /could not create shared memory|Cannot allocate memory/,
    'This machine has too little memory left for the database.',
  ],
]
