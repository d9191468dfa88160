import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { serveStatic } from '@hono/node-server/serve-static'
import type { Hono } from 'hono'

const BUILT = fileURLToPath(new URL('../../web/dist/', import.meta.url))
const A_YEAR = 31_536_000
/** A page's address may hold a dot, as `finish.deposit` does: only these are files. */
const A_FILE = /^\/assets\/|\.(?:js|css|map|json|svg|png|ico|woff2?|wasm|txt|webmanifest)$/

/** Serves the built pages: every address that is no file is the page itself, which then reads the address. */
export function servePages(app: Hono, root: string = BUILT): void {
  if (!existsSync(root)) {
    app.get('*', (c) => c.text('The pages are not built yet. Run: npm run build\n', 503))
    return
  }
  app.get('*', async (c, next) => {
    await next()
    if (c.res.headers.has('cache-control')) return
    // The names of assets hold a digest of their content.
    const forever = c.req.path.startsWith('/assets/') && c.res.ok
    c.res.headers.set('cache-control', forever ? `public, max-age=${A_YEAR}, immutable` : 'no-cache')
  })
  app.get('*', serveStatic({ root }))
  app.get('*', async (c, next) => {
    if (A_FILE.test(c.req.path)) return c.text('There is no such file.\n', 404)
    await next()
  })
  app.get('*', serveStatic({ root, path: 'index.html' }))
}
