import { spawn } from 'node:child_process'
import { open, readFile, rename, rm, stat } from 'node:fs/promises'
import { createServer } from 'node:net'
import { platform } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import pg from 'pg'
import { onDisk, RegisterTrouble } from '../register-trouble.ts'
import { withWriterLock } from '../writer-lock.ts'
import { type Account, serverAccount } from './account.ts'
import {
  type ClusterPlaces,
  clusterPassword,
  clusterPlaces,
  isCluster,
  makeCluster,
  overFolder,
  ROOT,
  serverEnvironment,
  whyNot,
} from './cluster-folder.ts'
import { databaseTrouble, inDatabase, isGone } from './database-trouble.ts'
import { postgresPrograms } from './programs.ts'
import { ADMINISTRATOR, DATABASE, SERVER } from './roles.ts'

/** Names the port of the database; else a free one is taken at each start. */
export const PORT_VARIABLE = 'HASPWRIGHT_DATABASE_PORT'
const HOST = '127.0.0.1'
const PATIENCE_MS = 60_000
const POLL_MS = 10
const JOIN_ATTEMPTS = 10
const ENDING_ATTEMPTS = 100
const PORT_ATTEMPTS = 3
const MAX_LOG_BYTES = 5_000_000
/** Every process that uses the server holds this lock, shared: who gets it alone is the last and turns off the light. */
const PRESENCE = 4170_0001

const SETTINGS = {
  listen_addresses: HOST,
  unix_socket_directories: '',
  // The server's log may hold no value of a row: neither a failed statement nor the key that was there already.
  log_min_error_statement: 'panic',
  log_error_verbosity: 'terse',
  log_checkpoints: 'off',
  max_connections: '100',
}

/** For data that may be lost with the power, such as those of a test run. */
const NOTHING_LASTS = { fsync: 'off', synchronous_commit: 'off', full_page_writes: 'off' }

export interface ServerOptions {
  /** Is everything acknowledged on the disk? It is, unless told otherwise. */
  readonly isDurable?: boolean
}

/** What starting a server over its folder takes. */
interface Starting {
  readonly places: ClusterPlaces
  readonly account: Account | undefined
  readonly environment: NodeJS.ProcessEnv
  readonly isDurable: boolean
}

/** A running server of a data folder, and our being there. */
export interface EmbeddedServer {
  readonly address: {
    readonly host: string
    readonly port: number
    readonly database: string
    readonly password: string
  }
  /** Says that we need it no more; it stops when nobody else does. */
  release(): Promise<void>
}

/**
 * Starts the server of a folder, or joins the one that another process started over it; makes the data at first use.
 * @param folder where the server keeps its data, its password and its log
 * @throws RegisterTrouble when the folder, the port, the disk or the data do not allow it
 */
export async function embeddedServer(
  folder: string,
  environment: NodeJS.ProcessEnv,
  { isDurable = true }: ServerOptions = {},
): Promise<EmbeddedServer> {
  const places = clusterPlaces(folder)
  const account = await serverAccount()
  return withWriterLock(folder, async () => {
    const password = await clusterPassword(places)
    if (!(await isCluster(places))) {
      const programs = await postgresPrograms(environment, account)
      await makeCluster(places, { programs, password, account, isDurable })
    }
    for (let attempt = 1; ; attempt++) {
      const port = (await portOfRunning(places)) ?? (await start({ places, account, environment, isDurable }))
      const address = { host: HOST, port, database: DATABASE, password }
      try {
        const presence = await bePresent(address, places)
        return { address, release: () => releasing(folder, () => leave(places, presence, address)) }
      } catch (cause) {
        // It went down just as we came: by now its file says so, and it is started again.
        if (attempt === JOIN_ATTEMPTS || !(cause instanceof RegisterTrouble && isGone(cause.cause))) throw cause
        await wait(POLL_MS * 10)
      }
    }
  })
}

/** A disk on which no lock can be made keeps nobody from leaving: who comes at that moment starts the server again. */
async function releasing(folder: string, leaveNow: () => Promise<void>): Promise<void> {
  let hasLeft = false
  try {
    await withWriterLock(folder, () => {
      hasLeft = true
      return leaveNow()
    })
  } catch (cause) {
    if (hasLeft || !(cause instanceof RegisterTrouble)) throw cause
    await leaveNow()
  }
}

async function bePresent(address: EmbeddedServer['address'], places: ClusterPlaces): Promise<pg.Client> {
  const presence = await connect({ ...address, user: SERVER }, places)
  await inDatabase(places.folder, () => presence.query('SELECT pg_advisory_lock_shared($1)', [PRESENCE]))
  return presence
}

async function leave(places: ClusterPlaces, presence: pg.Client, address: EmbeddedServer['address']): Promise<void> {
  await presence.end().catch(() => {}) // it may have gone before us
  const postmaster = await postmasterOf(places)
  if (postmaster === undefined) return
  let isLast: boolean
  try {
    const administrator = await connect({ ...address, user: ADMINISTRATOR }, places)
    const { rows } = await administrator.query<{ alone: boolean }>('SELECT pg_try_advisory_lock($1) AS alone', [
      PRESENCE,
    ])
    isLast = rows[0]?.alone ?? false
    await administrator.end()
  } catch {
    return // it is going down by itself
  }
  if (!isLast) return
  if (platform() === 'win32') spawn('taskkill', ['/pid', String(postmaster.pid), '/t', '/f'])
  else process.kill(postmaster.pid, 'SIGINT') // "fast": undoes what is under way and closes its books
  const giveUpAt = performance.now() + PATIENCE_MS
  while ((await postmasterOf(places)) !== undefined && performance.now() < giveUpAt) await wait(POLL_MS)
}

/** First lines of the file a running server keeps (PostgreSQL documentation, storage layout). */
async function postmasterOf({ cluster }: ClusterPlaces): Promise<Postmaster | undefined> {
  const text = await readFile(join(cluster, 'postmaster.pid'), 'utf8').catch(() => '')
  const lines = text.split('\n')
  const [pid, port, isReady] = [Number(lines[0]), Number(lines[3]), lines[7]?.trim() === 'ready']
  if (!(pid > 0 && isAlive(pid) && (await isPostgres(pid)))) return undefined
  return { pid, port, isReady }
}

interface Postmaster {
  readonly pid: number
  readonly port: number
  /** Does it take connections? */
  readonly isReady: boolean
}

/** After a power cut the number of a server may be another program's; one that was killed may still be listed as a zombie. */
async function isPostgres(pid: number): Promise<boolean> {
  if (platform() !== 'linux') return true
  return /\(postgres\) [^ZX]/.test(await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => ''))
}

async function portOfRunning(places: ClusterPlaces): Promise<number | undefined> {
  const giveUpAt = performance.now() + PATIENCE_MS
  for (;;) {
    const running = await postmasterOf(places)
    if (running === undefined) {
      await rm(join(places.cluster, 'postmaster.pid'), { force: true }) // its server is dead, and we hold the folder's lock
      return undefined
    }
    if (running.isReady) return running.port
    if (performance.now() > giveUpAt)
      throw new RegisterTrouble(
        places.folder,
        `A database server (process ${running.pid}) runs over this folder and does not answer. Stop it and try again.`,
      )
    await wait(POLL_MS)
  }
}

async function start(starting: Starting): Promise<number> {
  const { places, account, environment } = starting
  const programs = await postgresPrograms(environment, account)
  const wanted = environment[PORT_VARIABLE]
  for (let attempt = 1; ; attempt++) {
    const port = wanted ? Number(wanted) : await freePort()
    if (!Number.isInteger(port) || port < 1 || port > 65_535)
      throw new RegisterTrouble(PORT_VARIABLE, 'This is no port. Give a whole number, 1 to 65535.')
    const said = await startAt(port, { ...starting, program: programs.postgres })
    if (said === undefined) return port
    // Processes of a server that was killed are still ending.
    if (/pre-existing shared memory block/.test(said) && attempt < ENDING_ATTEMPTS) {
      await wait(POLL_MS * 10)
      continue
    }
    // A free port may be taken by another program before the server has it.
    if (wanted || attempt >= PORT_ATTEMPTS || !/Address already in use/.test(said))
      throw new RegisterTrouble(places.folder, whyNot(said), { cause: new Error(said) })
  }
}

/** @returns what the server said when it did not come up */
async function startAt(
  port: number,
  { places, account, program, isDurable }: Starting & { readonly program: string },
): Promise<string | undefined> {
  await startLogAnew(places.log)
  const log = await onDisk(places.log, () => open(places.log, 'a', 0o600))
  const { size: before } = await log.stat()
  try {
    const all = { ...SETTINGS, ...(isDurable ? {} : NOTHING_LASTS) }
    const settings = Object.entries(all).flatMap(([name, value]) => ['-c', `${name}=${value}`])
    const child = await overFolder(places.cluster, account, ({ name, handle }) =>
      spawn(program, ['-D', name, '-p', String(port), ...settings], {
        cwd: ROOT,
        ...account,
        env: serverEnvironment(),
        detached: true, // a Ctrl-C at the terminal is ours to handle, and we close the database last
        stdio: ['ignore', log.fd, log.fd, handle],
      }),
    )
    const ended = new Promise<'ended'>((resolve) => {
      child.once('exit', () => resolve('ended'))
      child.once('error', () => resolve('ended'))
    })
    child.unref()
    while (!(await postmasterOf(places))?.isReady) {
      if ((await Promise.race([ended, wait(POLL_MS)])) === 'ended')
        return (await readFile(places.log)).subarray(before).toString('utf8')
    }
    return undefined
  } finally {
    await log.close()
  }
}

async function startLogAnew(log: string): Promise<void> {
  const about = await stat(log).catch(() => undefined)
  if (about !== undefined && about.size > MAX_LOG_BYTES) await onDisk(log, () => rename(log, `${log}.old`))
}

async function connect(config: pg.ClientConfig, places: ClusterPlaces): Promise<pg.Client> {
  const client = new pg.Client(config)
  client.on('error', () => {}) // the next use says it
  try {
    await client.connect()
    return client
  } catch (cause) {
    if (cause instanceof pg.DatabaseError && cause.code === '28P01')
      throw new RegisterTrouble(places.password, 'This is not the password of the database. Put back its safe copy.', {
        cause,
      })
    throw databaseTrouble(places.folder, cause)
  }
}

async function freePort(): Promise<number> {
  const server = createServer()
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(0, HOST, resolve)
  })
  const address = server.address()
  await new Promise((resolve) => server.close(resolve))
  return typeof address === 'object' && address !== null ? address.port : 0
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (cause) {
    return (cause as NodeJS.ErrnoException).code === 'EPERM'
  }
}
