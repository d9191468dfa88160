import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { openRegister, type Register } from '@haspwright/register'
import { ownDatabase } from '@haspwright/register/testing'
import { onTestFinished } from 'vitest'

const root = fileURLToPath(new URL('../../', import.meta.url))
const program = join(root, 'cli/bin/haspwright.js')

/** A works key that would be recognised wherever it came out. */
export const WORKS_KEY = 'c0ffee0ddba11dead5ea1ed0b5e55ed1'

export interface Ended {
  readonly status: number | null
  readonly out: string
  readonly err: string
}

export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** Where and how the program is run. */
export interface Where {
  readonly cwd?: string
  /** The data folder. Its register is a database of its own on the server of the tests. */
  readonly data?: string
  /** The register is in the data folder itself, with a server of its own. */
  readonly embedded?: boolean
  /** A database that several programs share, whatever their data folders. */
  readonly database?: { readonly DATABASE_URL: string }
  /** Options of Node. */
  readonly node?: readonly string[]
  readonly environment?: NodeJS.ProcessEnv
}

/** Starts the built program, away from the repository unless told otherwise. */
export async function start(words: readonly string[], where: Where = {}): Promise<ChildProcess> {
  const { cwd = tmpdir(), node = [] } = where
  return spawn(process.execPath, [...node, program, ...words], { cwd, env: await environmentOf(where) })
}

/** The same as a line for a shell, with the environment it needs. */
export async function programLine(
  words: readonly string[],
  where: Where = {},
): Promise<{ line: string; environment: NodeJS.ProcessEnv }> {
  const line = [process.execPath, program, ...words].map((word) => `'${word}'`).join(' ')
  return { line, environment: await environmentOf(where) }
}

async function environmentOf({
  data = join(tmpdir(), 'none'),
  embedded = false,
  database,
  environment = {},
}: Where): Promise<NodeJS.ProcessEnv> {
  return {
    ...{ PATH: process.env['PATH'], HASPWRIGHT_WORKS_KEY: WORKS_KEY, HASPWRIGHT_DATA: data },
    ...(embedded || !existsSync(data) ? {} : (database ?? (await databaseOf(data)))),
    ...environment,
  }
}

const databases = new Map<string, ReturnType<typeof ownDatabase>>()

/** The database that is the register of a data folder, the same for every program that a test runs over it. */
async function databaseOf(data: string): Promise<{ readonly DATABASE_URL: string }> {
  const database = databases.get(data) ?? ownDatabase()
  databases.set(data, database)
  return (await database).environment
}

/** Does something in the register of a data folder, as a program before the one under test may have. */
export async function inRegister<T>(
  data: string,
  work: (register: Register) => Promise<T>,
  { embedded = false }: Pick<Where, 'embedded'> = {},
): Promise<T> {
  const environment = { HASPWRIGHT_WORKS_KEY: WORKS_KEY, ...(embedded ? {} : await databaseOf(data)) }
  const register = await openRegister(data, { environment })
  try {
    return await work(register)
  } finally {
    await register.close()
  }
}

/** Runs the built program to its end. */
export async function haspwright(
  words: readonly string[],
  { input = '', ...where }: Where & { input?: string | Uint8Array } = {},
): Promise<Ended> {
  const child = await start(words, where)
  child.stdin?.on('error', () => {}) // the program may end before it has read all that it is given
  child.stdin?.end(input)
  const [out, err] = [collect(child.stdout), collect(child.stderr)]
  const status = await new Promise<number | null>((resolve) => child.once('close', resolve))
  return { status, out: out.join(''), err: err.join('') }
}

function collect(stream: NodeJS.ReadableStream | null): string[] {
  const pieces: string[] = []
  stream?.setEncoding('utf8').on('data', (piece: string) => pieces.push(piece))
  return pieces
}

export interface Told {
  readonly issues: readonly { path: string; code: string; message: string; value?: unknown; allowed?: string }[]
}

/** The issues of a program that refused its input as the contract says: status 2, nothing on standard output. */
export function issuesOf({ status, out, err }: Ended): Told['issues'] {
  if (status !== 2 || out !== '') throw new Error(`status ${status}, ${out.length} characters of output\n${err}`)
  return (JSON.parse(err) as Told).issues
}

export const demoFile = (path: string) => join(root, 'demo', path)
// The demo's own tests check its files; here they are taken as JSON objects to be spoilt.
export const demoJson = (path: string) => JSON.parse(readFileSync(demoFile(path), 'utf8')) as Record<string, unknown>

export function fileWith(content: string | Uint8Array, name = 'order.json'): string {
  const file = join(temporaryFolder(), name)
  writeFileSync(file, content)
  return file
}
