import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it, onTestFinished } from 'vitest'
import { appOver, harbourDesign } from './app.testing.ts'

/** The app over a server of its own in a data folder, which can be killed. */
async function appOverOwnServer() {
  const data = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  onTestFinished(() => rmSync(data, { recursive: true, force: true }))
  const { app, register, logged } = await appOver({ data, environment: {} })
  onTestFinished(() => register.close())
  const server = () => Number(readFileSync(join(data, 'database', 'cluster', 'postmaster.pid'), 'utf8').split('\n')[0])
  return { app, register, logged, server }
}

it('a database that goes away while it is served is told in words, and comes back by itself with all that was stored', async () => {
  const { app, register, logged, server } = await appOverOwnServer()
  await register.designs.save('HB50', harbourDesign, { actor: 'R. Thorne' })
  const killed = server()
  process.kill(killed, 'SIGKILL')
  let answer = await app.request('/api/designs')
  // A connection of the killed server may answer once more before it notices.
  while (answer.status !== 200 || server() === killed) {
    if (answer.status !== 200) {
      expect(answer.status).toBe(503)
      expect(await answer.text()).toContain('cannot be reached, or went away')
    }
    answer = await app.request('/api/designs')
  }
  expect(await answer.json()).toMatchObject({ designs: [{ id: 'HB50', version: 1 }] })
  for (const line of logged) expect(line).not.toMatch(/password/)
})
