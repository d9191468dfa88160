import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { serveStatic } from '@hono/node-server/serve-static'
import type { Handler, Hono } from 'hono'
import { type AppEnv, openToAnybody } from './access/routes.ts'

const BUILT = fileURLToPath(new URL('../../web/dist/', import.meta.url))
const A_YEAR = 31_536_000
/** A page's address may hold a dot, as `finish.deposit` does: only these are files. */
const A_FILE = /^\/assets\/|\.(?:js|css|map|json|svg|png|ico|woff2?|wasm|txt|webmanifest)$/

/** The pages are the program; what they show comes from the API, which asks who calls. */
const shown = (handler: Handler<AppEnv>) => openToAnybody(handler, 'Holds the program, and nothing of a works.')

/** Serves the built pages: every address that is no file is the page itself, which then reads the address. */
export function servePages(app: Hono<AppEnv>, root: string = BUILT): void {
  if (!existsSync(root)) {
    app.get(
      '*',
      shown((c) => c.text('The pages are not built yet. Run: npm run build\n', 503)),
    )
    return
  }
  app.get(
    '*',
    shown(async (c, next) => {
      await next()
      if (c.res.headers.has('cache-control')) return
      // The names of assets hold a digest of their content.
      const forever = c.req.path.startsWith('/assets/') && c.res.ok
      c.res.headers.set('cache-control', forever ? `public, max-age=${A_YEAR}, immutable` : 'no-cache')
    }),
  )
  app.get('*', shown(serveStatic({ root })))
  app.get(
    '*',
    shown(async (c, next) => {
      if (A_FILE.test(c.req.path)) return c.text('There is no such file.\n', 404)
      await next()
    }),
  )
  app.get('*', shown(serveStatic({ root, path: 'index.html' })))
}
