import { execFileSync } from 'node:child_process'
import type { IncomingHttpHeaders } from 'node:http'
import { get } from 'node:https'
import { join } from 'node:path'
import type { Design } from '@haspwright/engine'
import { createClient } from '@haspwright/server/client'
import { describe, expect, it, onTestFinished } from 'vitest'
import { letPeopleIn } from '../../scripts/let-people-in.mjs'
import {
  demoJson,
  haspwright,
  inRegister,
  issuesOf,
  start,
  temporaryFolder,
  WORKS_KEY,
} from './command-line.testing.ts'

/** The built server on a free port over an empty data folder, into which it puts the demo. */
const serveDemo = (...words: string[]) => serveOver(temporaryFolder(), words)

/** The same over the data folder of a works that has begun: there it loads no demo. */
async function serve(...words: string[]) {
  const data = temporaryFolder()
  await inRegister(data, ({ designs }) => designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }))
  return serveOver(data, words)
}

async function serveOver(data: string, words: readonly string[]) {
  const child = await start(['serve', '--port', '0', ...words], { data })
  const printed: string[] = []
  child.stderr?.setEncoding('utf8').on('data', (piece: string) => printed.push(piece))
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  onTestFinished(async () => {
    child.kill('SIGTERM')
    await ended
  })
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout?.once('data', (line: Buffer) => resolve(line.toString()))
    ended.then((status) => reject(new Error(`ended with ${status}: ${printed.join('')}`)))
  })
  return { address: address.trim(), line: address, data, child, ended, printed }
}

/** Somebody with every role but the administrator's, let in by the link the server printed. */
async function signedIn({ address, printed }: { address: string; printed: readonly string[] }) {
  const link = /http:\S+\/invitation#\S+/.exec(printed.join(''))?.[0] ?? ''
  const { everyRole } = await letPeopleIn(address, link)
  return everyRole
}

async function expectGarbageRefused(fetchAs: (path: string, init: RequestInit) => Promise<Response>): Promise<void> {
  const body = new Uint8Array(5e6).fill(0x61)
  const headers = { 'content-type': 'application/json' }
  for (const path of ['/api/orders', '/api/calc/finish.deposit']) {
    const response = await fetchAs(path, { method: 'POST', body, headers })
    expect(response.status).toBe(413)
    expect(await response.text()).toContain('too large')
  }
  const order = { ...demoJson('orders/26-041-harbour.json'), lines: [] }
  const refused = await fetchAs('/api/orders', { method: 'POST', body: JSON.stringify(order), headers })
  expect(refused.status).toBe(422)
}

describe('haspwright serve', () => {
  it('opens with the demo planned, refuses 5 MB of garbage, answers while it plans, and ends when asked', async () => {
    const { address, line, data, child, ended, printed } = await serveDemo()
    expect(line).toMatch(/^http:\/\/localhost:\d+\n$/)
    expect((await fetch(`${address}/api/orders`)).status).toBe(401)
    const person = await signedIn({ address, printed })
    const client = createClient({ fetcher: (path, init) => person.fetch(path, init) })
    const listed = await client.listOrders()
    expect(listed.orders.map(({ planState }) => planState)).toEqual(['current', 'current', 'current'])

    await expectGarbageRefused((path, init) => person.fetch(path, init))
    expect(await client.listOrders()).toEqual(listed)

    const design = await client.getDesign('HB50')
    await client.saveDesign('HB50', { ...design.content, title: 'Renamed' }, design.version)
    let planned = false
    const planning = client.planOrder('26-041').finally(() => {
      planned = true
    })
    expect((await fetch(`${address}/api/health`)).status).toBe(200)
    expect(planned).toBe(false)
    expect((await planning).planState).toBe('current')

    const papers = await client.listPapers('26-041')
    const open = papers.find(({ mediaType, secret }) => !secret && mediaType === 'application/pdf')
    const paper = await person.fetch(open?.href ?? '')
    expect(Buffer.from(await paper.arrayBuffer()).toString('latin1', 0, 5)).toBe('%PDF-')
    const secret = papers.find((each) => each.secret)
    expect(
      (await client.openCodePaper('26-041', { path: secret?.path ?? '', reason: 'cutting keys' })).size,
    ).toBeGreaterThan(0)
    const entries = await inRegister(data, ({ access }) => access.entries())
    expect(entries).toMatchObject([
      { order: '26-041', reason: 'cutting keys', who: expect.stringMatching(/^R\. Thorne \(p-/) },
    ])

    child.kill('SIGINT')
    expect(await ended).toBe(0)
    expect(printed.join('')).not.toContain(WORKS_KEY)
  }, 300_000) // lets people in, plans, makes every paper twice and builds a solid

  it('prints the set-up link again until somebody is let in, and the earlier one ends', async () => {
    const first = await serve()
    const link = (printed: readonly string[]) => /http:\S+\/invitation#\S+/.exec(printed.join(''))?.[0] ?? ''
    first.child.kill('SIGINT')
    await first.ended
    const ofFirst = link(first.printed)
    expect(ofFirst).not.toBe('')
    const people = await inRegister(first.data, async (register) => ({
      behindFirst: (await register.people.invitations.behind(ofFirst.split('#')[1] ?? ''))?.kind,
      behindLater: await register.people.invitations
        .makeSetUp()
        .then(() => register.people.invitations.behind(ofFirst.split('#')[1] ?? '')),
    }))
    expect(people).toEqual({ behindFirst: 'set-up', behindLater: undefined })
  })

  it('serves over TLS by its own certificate, tells browsers to come no other way, and says what is wrong with the files', async () => {
    const folder = temporaryFolder()
    const [cert, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')]
    const made = ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '2', '-subj', '/CN=localhost']
    execFileSync('openssl', [...made, '-keyout', key, '-out', cert], { stdio: 'ignore' })
    const { address } = await serve('--tls-cert', cert, '--tls-key', key)
    expect(address).toMatch(/^https:/)
    const headers = await new Promise<IncomingHttpHeaders>((resolve, reject) => {
      get(`${address}/api/health`, { rejectUnauthorized: false }, (response) => resolve(response.resume().headers)).on(
        'error',
        reject,
      )
    })
    expect(headers['strict-transport-security']).toMatch(/max-age=\d{8}/)
    const data = temporaryFolder()
    const half = await haspwright(['serve', '--tls-cert', cert], { data })
    expect(issuesOf(half)[0]).toMatchObject({ path: '--tls-key', code: 'missing' })
    const wrong = await haspwright(['serve', '--tls-cert', cert, '--tls-key', join(folder, 'none.pem')], { data })
    expect(issuesOf(wrong)[0]).toMatchObject({ path: '--tls-key', code: 'not-found' })
    const swapped = await haspwright(['serve', '--tls-cert', cert, '--tls-key', cert], { data })
    expect(issuesOf(swapped)[0]).toMatchObject({ path: '--tls-key', code: 'contradiction' })
  })

  it('says so when other machines can reach it, and when a port is taken', async () => {
    const { address, printed } = await serve('--host', '0.0.0.0')
    expect(printed.join('')).toContain('without TLS')
    const port = new URL(address).port
    const words = ['serve', '--host', '0.0.0.0', '--port', port]
    expect(issuesOf(await haspwright(words, { data: temporaryFolder() }))[0]).toMatchObject({
      path: '--port',
      value: Number(port),
    })
  })
})
