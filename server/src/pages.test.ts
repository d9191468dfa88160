import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Hono } from 'hono'
import { describe, expect, it, onTestFinished } from 'vitest'
import type { AppEnv } from './access/routes.ts'
import { servePages } from './pages.ts'

function builtPages() {
  const root = mkdtempSync(join(tmpdir(), 'haspwright-test-'))
  onTestFinished(() => rmSync(root, { recursive: true, force: true }))
  mkdirSync(join(root, 'dist', 'assets'), { recursive: true })
  writeFileSync(join(root, 'secret.txt'), 'outside')
  writeFileSync(join(root, 'dist', 'index.html'), '<!doctype html><title>Haspwright</title>')
  writeFileSync(join(root, 'dist', 'assets', 'page-1a2b3c.js'), 'export {}')
  const app = new Hono<AppEnv>()
  servePages(app, join(root, 'dist'))
  return app
}

describe('the built pages', () => {
  it.each(['/', '/orders/26-041', '/calc/finish.deposit?in=1'])(
    'open at %s and are asked for anew each time',
    async (path) => {
      const response = await builtPages().request(path)
      expect(response.status).toBe(200)
      expect(response.headers.get('cache-control')).toBe('no-cache')
      expect(await response.text()).toContain('<title>Haspwright</title>')
    },
  )

  it('keep files whose names hold a digest for good', async () => {
    const response = await builtPages().request('/assets/page-1a2b3c.js')
    expect(response.headers.get('content-type')).toContain('javascript')
    expect(response.headers.get('cache-control')).toContain('immutable')
  })

  it('are not given out for a file that is not there', async () => {
    expect((await builtPages().request('/assets/page-old.js')).status).toBe(404)
  })

  it.each(['/../secret.txt', '/%2e%2e/secret.txt', '/..%2fsecret.txt', '/assets/..%2f..%2fsecret.txt'])(
    'lead nowhere outside their folder: %s',
    async (path) => {
      expect(await (await builtPages().request(path)).text()).not.toContain('outside')
    },
  )

  it('say what to do when they are not built', async () => {
    const app = new Hono<AppEnv>()
    servePages(app, join(tmpdir(), 'no-such-folder'))
    const response = await app.request('/')
    expect(response.status).toBe(503)
    expect(await response.text()).toContain('npm run build')
  })
})
