import { randomBytes } from 'node:crypto'
import { open, readFile, rm, stat } from 'node:fs/promises'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { makeFolder } from './make-folder.ts'
import { onDisk, RegisterTrouble } from './register-trouble.ts'

interface Holder {
  readonly pid: number
  readonly host: string
  /** Start of the process in clock ticks since boot, where the system tells: pids are used again. */
  readonly started: string | null
  readonly token: string
}

const RETRY_MS = 15
const EMPTY_FOR_MS = 10_000
const PATIENCE_MS = 60_000

/**
 * Runs `work` while no other process writes in the folder. A lock left by a process that died is taken over; one held by a
 * process on another machine, or by one that lives, is waited for.
 *
 * @throws RegisterTrouble when the lock is not given back in time
 */
export async function withWriterLock<T>(folder: string, work: () => Promise<T>, patienceMs = PATIENCE_MS): Promise<T> {
  const path = join(folder, 'lock')
  await onDisk(folder, () => makeFolder(folder))
  const mine: Holder = {
    pid: process.pid,
    host: hostname(),
    started: await startOf(process.pid),
    token: randomBytes(8).toString('hex'),
  }
  const giveUpAt = performance.now() + patienceMs
  while (!(await onDisk(path, () => createLock(path, mine)))) {
    if (await isLeftBehind(path)) await takeAway(path)
    else if (performance.now() > giveUpAt)
      throw new RegisterTrouble(
        path,
        `Another process (${await describeHolder(path)}) has been writing for too long. If no Haspwright is running, delete this file and try again.`,
      )
    else await wait(RETRY_MS)
  }
  try {
    return await work()
  } finally {
    if ((await holderOf(path))?.token === mine.token) await rm(path, { force: true })
  }
}

async function createLock(path: string, holder: Holder): Promise<boolean> {
  try {
    const file = await open(path, 'wx', 0o644)
    try {
      await file.writeFile(JSON.stringify(holder))
    } catch (cause) {
      await rm(path, { force: true }) // a disk that is full has room for the name and none for the holder
      throw cause
    } finally {
      await file.close()
    }
    return true
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'EEXIST') return false
    throw cause
  }
}

/** `undefined` when the lock is gone or still being written. */
async function holderOf(path: string): Promise<Holder | undefined> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as Holder
  } catch {
    return undefined
  }
}

async function isLeftBehind(path: string): Promise<boolean> {
  const holder = await holderOf(path)
  if (holder === undefined) return isOldAndEmpty(path)
  if (holder.host !== hostname()) return false
  return !isAlive(holder.pid) || (holder.started !== null && (await startOf(holder.pid)) !== holder.started)
}

/** A process may have died between making the lock and writing its name into it. */
async function isOldAndEmpty(path: string): Promise<boolean> {
  try {
    return Date.now() - (await stat(path)).mtimeMs > EMPTY_FOR_MS
  } catch {
    return false
  }
}

/**
 * Removes a lock that was left behind. Two processes may find it at once: only the one that makes the second file may
 * remove it, and looks once more before it does, so that a fresh lock is never taken from its owner.
 */
async function takeAway(path: string): Promise<void> {
  const removing = `${path}.removing`
  try {
    await (await open(removing, 'wx')).close()
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'EEXIST') throw cause
    await wait(RETRY_MS)
    return
  }
  try {
    if (await isLeftBehind(path)) await rm(path, { force: true })
  } finally {
    await rm(removing, { force: true })
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (cause) {
    return (cause as NodeJS.ErrnoException).code === 'EPERM'
  }
}

async function startOf(pid: number): Promise<string | null> {
  try {
    const about = await readFile(`/proc/${pid}/stat`, 'utf8')
    return about.slice(about.lastIndexOf(')') + 2).split(' ')[19] ?? null
  } catch {
    return null
  }
}

async function describeHolder(path: string): Promise<string> {
  const holder = await holderOf(path)
  return holder === undefined ? 'unknown' : `process ${holder.pid} on ${holder.host}`
}
