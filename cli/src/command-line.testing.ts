import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
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

/** Starts the built program, away from the repository unless told otherwise. */
export function start(
  words: readonly string[],
  { cwd = tmpdir(), data = join(tmpdir(), 'none'), node = [] as readonly string[] } = {},
): ChildProcess {
  const env = { PATH: process.env['PATH'], HASPWRIGHT_WORKS_KEY: WORKS_KEY, HASPWRIGHT_DATA: data }
  return spawn(process.execPath, [...node, program, ...words], { cwd, env })
}

/** Runs the built program to its end. */
export async function haspwright(
  words: readonly string[],
  { input = '', ...where }: { input?: string | Uint8Array; cwd?: string; data?: string; node?: readonly string[] } = {},
): Promise<Ended> {
  const child = start(words, where)
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
