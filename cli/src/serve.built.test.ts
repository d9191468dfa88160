import { createClient } from '@haspwright/server/client'
import { describe, expect, it, onTestFinished } from 'vitest'
import {
  demoJson,
  haspwright,
  inRegister,
  issuesOf,
  start,
  temporaryFolder,
  WORKS_KEY,
} from './command-line.testing.ts'

/** The built server on a free port over an empty data folder. */
async function serve(...words: string[]) {
  const data = temporaryFolder()
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

describe('haspwright serve', () => {
  it('opens with the demo planned, answers while it plans, and ends when asked', async () => {
    const { address, line, data, child, ended, printed } = await serve()
    expect(line).toMatch(/^http:\/\/localhost:\d+\n$/)
    const client = createClient({ base: address })
    const orders = await client.listOrders()
    expect(orders.map(({ planState }) => planState)).toEqual(['current', 'current', 'current'])

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
    const paper = await fetch(`${address}${open?.href}`)
    expect(Buffer.from(await paper.arrayBuffer()).toString('latin1', 0, 5)).toBe('%PDF-')
    const secret = papers.find((each) => each.secret)
    expect(
      (await client.openCodePaper('26-041', { path: secret?.path ?? '', reason: 'cutting keys' })).size,
    ).toBeGreaterThan(0)
    const entries = await inRegister(data, ({ access }) => access.entries())
    expect(entries).toMatchObject([{ order: '26-041', reason: 'cutting keys' }])

    child.kill('SIGINT')
    expect(await ended).toBe(0)
    expect(printed.join('')).not.toContain(WORKS_KEY)
  }, 300_000) // a design is saved: its solid is built beside the plan and its papers

  it('refuses 5 MB of garbage over the wire and serves on', async () => {
    const { address } = await serve()
    const body = new Uint8Array(5e6).fill(0x61)
    const headers = { 'content-type': 'application/json' }
    for (const path of ['/api/orders', '/api/calc/finish.deposit']) {
      const response = await fetch(`${address}${path}`, { method: 'POST', body, headers })
      expect(response.status).toBe(413)
      expect(await response.text()).toContain('too large')
    }
    const order = { ...demoJson('orders/26-041-harbour.json'), lines: [] }
    const refused = await fetch(`${address}/api/orders`, { method: 'POST', body: JSON.stringify(order), headers })
    expect(refused.status).toBe(422)
    expect((await (await fetch(`${address}/api/orders`)).json()) as object).toMatchObject({ orders: { length: 3 } })
  })

  it('says so when other machines can reach it, and when a port is taken', async () => {
    const { address, printed } = await serve('--host', '0.0.0.0')
    expect(printed.join('')).toContain('nobody has to sign in')
    const port = new URL(address).port
    const words = ['serve', '--host', '0.0.0.0', '--port', port]
    expect(issuesOf(await haspwright(words, { data: temporaryFolder() }))[0]).toMatchObject({
      path: '--port',
      value: Number(port),
    })
  })
})
