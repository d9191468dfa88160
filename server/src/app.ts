import { calculationById, type Issue } from '@haspwright/engine'
import { type Register, RegisterTrouble } from '@haspwright/register'
import { type Context, Hono } from 'hono'
import { secureHeaders } from 'hono/secure-headers'
import { DesignSolids, solidCache } from './design-solids.ts'
import { faultLog, newFault } from './fault.ts'
import { OrderPlans } from './order-plans.ts'
import { PlanCache } from './plan-cache.ts'
import type { Planner } from './planning/planner.ts'
import { notFound, refusal } from './replies.ts'
import { calculationRoutes } from './routes/calculations.ts'
import { codeRoutes } from './routes/codes.ts'
import { designRoutes } from './routes/designs.ts'
import { documentRoutes } from './routes/documents.ts'
import { orderRoutes } from './routes/orders.ts'
import { paperRoutes } from './routes/papers.ts'
import { solidRoutes } from './routes/solids.ts'
import type { ErrorBody } from './wire.ts'

export interface AppDependencies {
  readonly register: Register
  readonly planner: Planner
  /** Folder of plans and papers, which can be thrown away. */
  readonly cacheFolder: string
  readonly log: (line: string) => void
  /** Host names that a request may name; `undefined` for any. Guards a server of this machine against pages from elsewhere. */
  readonly allowedHosts?: ReadonlySet<string>
  readonly version: string
  /** Builds the solid of every design that is saved, so that its page shows it at once; takes half a minute of a processor. */
  readonly preparesSolids?: boolean
}

/** The API without its socket: tests ask it through `app.request`. */
export function createApp({
  register,
  planner,
  cacheFolder,
  log,
  allowedHosts,
  version,
  preparesSolids,
}: AppDependencies) {
  const orders = new OrderPlans({ register, planner, cache: new PlanCache(cacheFolder) })
  const solids = new DesignSolids({ planner, cache: solidCache(cacheFolder) })
  const app = new Hono()
  app.use(securityHeaders)
  app.use(async (c, next) => {
    const host = new URL(c.req.url).hostname
    if (allowedHosts !== undefined && !allowedHosts.has(host)) return refusal(c, 421, [wrongHost(host)])
    await next()
  })
  app.use('/api/*', async (c, next) => {
    await next()
    if (!c.res.headers.has('cache-control')) c.res.headers.set('cache-control', 'no-store')
  })
  app.route('/api', calculationRoutes({ planner }))
  app.route('/api', orderRoutes({ orders }))
  app.route('/api', paperRoutes({ orders, register }))
  app.route(
    '/api',
    designRoutes({ register, saved: preparesSolids === true ? (design) => solids.prepare(design) : undefined }),
  )
  app.route('/api', solidRoutes({ register, solids }))
  app.route('/api', codeRoutes({ register }))
  app.route('/api', documentRoutes({ version }))
  app.all('/api/*', (c) => notFound(c, 'There is nothing here. /api/openapi.json lists what there is.'))
  app.onError((cause, c) => troubleOrFault(cause, c, log))
  return { app, orders }
}

/** A damaged data folder can be mended by a person, and is told as an issue; anything else thrown is our bug. */
function troubleOrFault(cause: Error, c: Context, log: (line: string) => void) {
  if (cause instanceof RegisterTrouble) {
    log(cause.message)
    return refusal(c, 503, cause.issues)
  }
  const fault = newFault()
  const { method, path } = c.req
  log(faultLog(fault, cause, { doing: `${method} ${path}`, secret: holdsSecrets(path) }))
  return c.json({ issues: [], fault } satisfies ErrorBody, 500)
}

function holdsSecrets(path: string): boolean {
  const [, , place, id] = path.split('/')
  return place === 'orders' || place === 'codes' || (place === 'calc' && calculationById(id ?? '')?.secret === true)
}

const wrongHost = (host: string): Issue => ({
  path: 'host',
  code: 'not-a-choice',
  message: 'This server answers to this machine alone. Open it by the address it printed when it started.',
  value: host.slice(0, 80),
})

/** No inline script, no frame around us, no guessing of types. Styles stay inline: formulas are set with them. */
const securityHeaders = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'self'"],
    scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
    styleSrc: ["'self'", "'unsafe-inline'"],
    imgSrc: ["'self'", 'data:', 'blob:'],
    fontSrc: ["'self'", 'data:'],
    workerSrc: ["'self'", 'blob:'],
    objectSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
  },
  xFrameOptions: 'DENY',
  referrerPolicy: 'no-referrer',
  strictTransportSecurity: false, // plain HTTP on this machine; a proxy in front sets it where there is TLS
})
