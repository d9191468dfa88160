import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Design, Order } from '@haspwright/engine'
import { openRegister } from '@haspwright/register'
import { databaseToCopy, ownDatabase, sharedDatabase, someWorks } from '@haspwright/register/testing'
import { onTestFinished } from 'vitest'
import type { PersonCaller } from './access/caller.ts'
import { ROLE_NAMES } from './access/roles.ts'
import { type AppDependencies, createApp } from './app.ts'
import { loadDemo } from './demo.ts'
import { deskWithWorker } from './jobs/desk-with-worker.testing.ts'
import { PeopleService } from './people/people-service.ts'
import { directPlanner } from './planning/planner.ts'
import { rememberingPlanner } from './planning/remembering-planner.testing.ts'

/** A works key that would be recognised wherever it came out. */
export const WORKS_KEY = 'c0ffee0ddba11dead5ea1ed0b5e55ed1'

export const demoJson = (path: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../demo/${path}`, import.meta.url), 'utf8'))
// The demo's own tests check its files; here they are taken as what they are.
export const harbourOrder = demoJson('orders/26-041-harbour.json') as Order
export const harbourDesign = demoJson('designs/hb50.json') as Design

/** Somebody in every role but the administrator's: what these tests are about is not who may do it. */
export const ENGINEER_AND_REGISTRAR: PersonCaller = {
  kind: 'person',
  id: 'p-thorne',
  name: 'R. Thorne',
  email: 'thorne@tarnmoor.example',
  roles: ROLE_NAMES.filter((role) => role !== 'administrator'),
  hasSecondFactor: true,
  secondFactor: true,
  sessionId: 'here',
}

/** The app over an empty data folder, asked in process. */
export async function appOverEmptyFolder(other: Partial<AppDependencies> = {}) {
  const place = { data: temporaryFolder(), environment: sharedDatabase().environment, worksId: someWorks() }
  const bench = await appOver(place, other)
  onTestFinished(() => bench.register.close())
  return bench
}

function temporaryFolder(): string {
  const data = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  onTestFinished(() => rmSync(data, { recursive: true, force: true }))
  return data
}

interface Place {
  readonly data: string
  readonly environment: NodeJS.ProcessEnv
  readonly worksId?: string
}

/** The app over a register, asked in process; who opens it closes the register. */
export async function appOver({ data, environment, ...works }: Place, other: Partial<AppDependencies> = {}) {
  const logged: string[] = []
  const withKey = { ...environment, HASPWRIGHT_WORKS_KEY: WORKS_KEY }
  const register = await openRegister(data, { environment: withKey, ...works })
  const planner = other.planner ?? directPlanner
  const log = (line: string) => void logged.push(line)
  const desk = deskWithWorker({ register, planner, log })
  const { app, orders } = createApp({
    register,
    planner,
    desk,
    log,
    version: '0.0.0',
    service: new PeopleService(register.people, () => 'http://localhost'),
    whoCalls: async () => ENGINEER_AND_REGISTRAR,
    ...other,
  })
  const send = (method: string, path: string, body: unknown, headers: Record<string, string> = {}) =>
    app.request(path, {
      method,
      body: typeof body === 'string' ? body : JSON.stringify(body),
      headers: { 'content-type': 'application/json', ...headers },
    })
  return {
    app,
    orders,
    desk,
    register: { ...register, close: () => desk.close().then(() => register.close()) },
    data,
    logged,
    get: (path: string, headers: Record<string, string> = {}) => app.request(path, { headers }),
    post: (path: string, body: unknown, headers?: Record<string, string>) => send('POST', path, body, headers),
    put: (path: string, body: unknown, headers?: Record<string, string>) => send('PUT', path, body, headers),
  }
}

/** The app with the invented works in it, its orders planned. */
export const appWithDemo = (other: Partial<AppDependencies> = {}) => appOverCopy('planned', other)

/** The same, with the papers of the harbour order made. */
export const appWithPapers = (other: Partial<AppDependencies> = {}) => appOverCopy('printed', other)

/** Every test has a data folder and a database of its own: copies of those that are made once. */
async function appOverCopy(kind: 'planned' | 'printed', other: Partial<AppDependencies>) {
  const made = demoData.get(kind) ?? makeDemoData(kind === 'printed')
  demoData.set(kind, made)
  const { data: from, database } = await made
  const [data, own] = [temporaryFolder(), await ownDatabase(database)]
  cpSync(from, data, { recursive: true })
  const bench = await appOver({ data, environment: own.environment }, other)
  onTestFinished(() => bench.register.close())
  return { ...bench, database: own }
}

const demoData = new Map<string, Promise<{ data: string; database: string }>>()
/** The folders made here: they go with the process, since test files that follow one another in it share them. */
const folders: string[] = []
process.once('exit', () => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true })
})

async function makeDemoData(printed: boolean): Promise<{ data: string; database: string }> {
  const data = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  folders.push(data)
  const { name, environment } = await databaseToCopy()
  const { register, orders } = await appOver({ data, environment }, { planner: rememberingPlanner })
  await loadDemo(register, orders)
  if (printed) await orders.papers(harbourOrder.id, ENGINEER_AND_REGISTRAR)
  await register.close()
  return { data, database: name }
}
