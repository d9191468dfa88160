import { createHmac } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openRegister } from '@haspwright/register'
import { someWorks, type TestDatabase } from '@haspwright/register/testing'
import { expect, onTestFinished } from 'vitest'
import type { Role } from '../access/roles.ts'
import { createApp } from '../app.ts'
import { loadDemo } from '../demo.ts'
import { deskWithWorker } from '../jobs/desk-with-worker.testing.ts'
import { rememberingPlanner } from '../planning/remembering-planner.testing.ts'
import { PeopleService } from './people-service.ts'

export const ADDRESS = 'http://localhost'
export const PASSWORD = 'a long enough passphrase'
const WORKS_KEY = 'c0ffee0ddba11dead5ea1ed0b5e55ed1'

type Json = Record<string, unknown>

/** The app over a works of its own in PostgreSQL, asked in process by browsers that keep their cookies. */
export async function peopleBench({ environment }: TestDatabase, { behindTls = false, demo = false } = {}) {
  const data = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  onTestFinished(() => rmSync(data, { recursive: true, force: true }))
  const works = someWorks()
  const open = async () => {
    const opened = await openRegister(data, {
      environment: { ...environment, HASPWRIGHT_WORKS_KEY: WORKS_KEY },
      worksId: works,
    })
    onTestFinished(() => opened.close())
    return opened
  }
  const register = await open()
  const logged: string[] = []
  const address = behindTls ? 'https://works.example' : ADDRESS
  const service = new PeopleService(register.people, () => address)
  const log = (line: string) => void logged.push(line)
  const desk = deskWithWorker({ register, planner: rememberingPlanner, log })
  onTestFinished(() => desk.close()) // before the register, which was opened first
  const { app, orders } = createApp({
    register,
    planner: rememberingPlanner,
    desk,
    log,
    version: '0.0.0',
    service,
    behindTls,
  })
  if (demo) await loadDemo(register, orders)
  let people = 0
  const email = (name: string) => `${name}-${++people}@${works}.example`

  /** Somebody's browser. */
  const browser = () => new Browser((path, init) => app.request(`${address}${path}`, init), address)

  /** The first administrator, come in by the set-up link, with a second factor. */
  async function setUp(roles: readonly Role[] = []) {
    const admin = browser()
    const link = await register.people.invitations.makeSetUp()
    await admin.done('POST', '/api/invitations/accept', {
      link,
      name: 'A. Dministrator',
      email: email('admin'),
      password: PASSWORD,
      roles,
    })
    await admin.enrol()
    return admin
  }

  /** Somebody new, invited by the administrator, signed in. */
  async function newcomer(admin: Browser, roles: readonly Role[], { secondFactor = false, name = 'N. Ewcomer' } = {}) {
    const address = email(roles[0] ?? 'none')
    const made = await admin.done('POST', '/api/invitations', { name, email: address, roles })
    const person = browser()
    person.email = address
    await person.done('POST', '/api/invitations/accept', { link: secretOf(made['link']), password: PASSWORD })
    if (secondFactor) await person.enrol()
    return person
  }

  return { app, orders, register, service, logged, works, browser, setUp, newcomer, email }
}

/** A browser as far as the server sees it: cookies, and the origin of its page. */
export class Browser {
  readonly #request: (path: string, init: RequestInit) => Response | Promise<Response>
  readonly #origin: string
  readonly cookies = new Map<string, string>()
  email = ''
  /** Of the second factor, once enrolled. */
  secret = ''
  recoveryCodes: readonly string[] = []

  constructor(request: (path: string, init: RequestInit) => Response | Promise<Response>, origin: string) {
    this.#request = request
    this.#origin = origin
  }

  async send(method: string, path: string, body?: unknown, headers: Record<string, string> = {}): Promise<Response> {
    const cookie = [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ')
    const response = await this.#request(path, {
      method,
      headers: {
        ...(method === 'GET' ? {} : { origin: this.#origin, 'content-type': 'application/json' }),
        ...(cookie === '' ? {} : { cookie }),
        ...headers,
      },
      ...(body === undefined ? {} : { body: isBytes(body) ? body : JSON.stringify(body) }),
    })
    for (const line of response.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(line) ?? []
      if (value === '' || /max-age=0/i.test(line)) this.cookies.delete(name)
      else this.cookies.set(name, value)
    }
    return response
  }

  get(path: string) {
    return this.send('GET', path)
  }

  /** Sends what must go well. */
  async done(method: string, path: string, body?: unknown): Promise<Json> {
    const response = await this.send(method, path, body)
    const answer = (await response.json()) as Json
    expect(response.ok, `${method} ${path}: ${JSON.stringify(answer)}`).toBe(true)
    return answer
  }

  async me(): Promise<Json> {
    return this.done('GET', '/api/me')
  }

  async enrol(): Promise<void> {
    const begun = await this.done('POST', '/api/account/second-factor', { password: PASSWORD })
    this.secret = new URL(String(begun['uri'])).searchParams.get('secret') ?? ''
    this.recoveryCodes = begun['recoveryCodes'] as string[]
    await this.done('POST', '/api/account/second-factor/confirmation', { code: totp(this.secret) })
    this.email = String((await this.me())['email'])
  }
}

const isBytes = (body: unknown): body is string | Uint8Array<ArrayBuffer> =>
  typeof body === 'string' || body instanceof Uint8Array

export const secretOf = (link: unknown) => String(link).split('#')[1] ?? ''

/** RFC 6238 with SHA-1, 30 s and six digits, written here so that the library is checked by something else. */
export function totp(base32: string, at = Date.now()): string {
  const bits = [...base32.replace(/=+$/, '')]
    .map((letter) => 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'.indexOf(letter).toString(2).padStart(5, '0'))
    .join('')
  const key = Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2)))
  const counter = Buffer.alloc(8)
  counter.writeBigUInt64BE(BigInt(Math.floor(at / 30_000)))
  const hash = createHmac('sha1', key).update(counter).digest()
  const offset = (hash.at(-1) ?? 0) & 15
  return String((hash.readUInt32BE(offset) & 0x7fffffff) % 1_000_000).padStart(6, '0')
}
