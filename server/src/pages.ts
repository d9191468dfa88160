import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { serveStatic } from '@hono/node-server/serve-static'
import type { Hono } from 'hono'

const BUILT = fileURLToPath(new URL('../../web/dist/', import.meta.url))
const A_YEAR = 31_536_000

/** Serves the built pages: every address that is no file is the page itself, which then reads the address. */
export function servePages(app: Hono, root: string = BUILT): void {
  if (!existsSync(root)) {
    app.get('*', (c) => c.text('The pages are not built yet. Run: npm run build\n', 503))
    return
  }
  app.use(
    '*',
    serveStatic({
      root,
      onFound: (path, c) => {
        const forever = /[/\\]assets[/\\]/.test(path) // their names hold a digest of their content
        c.header('cache-control', forever ? `public, max-age=${A_YEAR}, immutable` : 'no-cache')
      },
    }),
  )
  app.get('*', async (c, next) => {
    if (/\.[a-z0-9]+$/i.test(c.req.path)) return c.text('There is no such file.\n', 404)
    await next()
  })
  app.get('*', serveStatic({ root, path: 'index.html', onFound: (_, c) => c.header('cache-control', 'no-cache') }))
}
