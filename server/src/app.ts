import { calculationById, type Design, type Issue } from '@haspwright/engine'
import { PLANNING, type Register, RegisterTrouble } from '@haspwright/register'
import { type Context, Hono } from 'hono'
import { secureHeaders } from 'hono/secure-headers'
import type { Caller } from './access/caller.ts'
import { type AppEnv, assertEveryRouteDeclares, routesOf } from './access/routes.ts'
import { sameOrigin } from './access/same-origin.ts'
import { faultLog, newFault } from './fault.ts'
import { JobCancelled, type JobDesk, JobTrouble } from './jobs/job-desk.ts'
import { JobReplies } from './jobs/job-replies.ts'
import { HOLDS_NUL } from './json-body.ts'
import { OrderPlans } from './order-plans.ts'
import type { PeopleService } from './people/people-service.ts'
import { OrderPlanning } from './planning/plan-orders.ts'
import type { Planner } from './planning/planner.ts'
import { badInput, notFound, refusal } from './replies.ts'
import { accountRoutes } from './routes/account.ts'
import { calculationRoutes } from './routes/calculations.ts'
import { codeRoutes } from './routes/codes.ts'
import { custodyRoutes } from './routes/custody.ts'
import { designRoutes } from './routes/designs.ts'
import { documentRoutes } from './routes/documents.ts'
import { floorRoutes } from './routes/floor.ts'
import { jobRoutes } from './routes/jobs.ts'
import { orderRoutes } from './routes/orders.ts'
import { paperRoutes } from './routes/papers.ts'
import { peopleRoutes } from './routes/people.ts'
import { signInRoutes } from './routes/sign-in.ts'
import { solidRoutes, solidsWanted } from './routes/solids.ts'
import type { ErrorBody } from './wire.ts'

export interface AppDependencies {
  readonly register: Register
  readonly planner: Planner
  /** Where long work is asked for; somebody must work it off. */
  readonly desk: JobDesk
  readonly log: (line: string) => void
  /** Host names that a request may name; `undefined` for any. Guards a server of this machine against pages from elsewhere. */
  readonly allowedHosts?: ReadonlySet<string>
  readonly version: string
  readonly service: PeopleService
  /** Who calls; by cookie or token unless a test of another subject says it. */
  readonly whoCalls?: (c: Context) => Promise<Caller>
  /** Reached over TLS: browsers are told to come no other way. */
  readonly behindTls?: boolean
  /** Builds the solid of every design that is saved, so that its page shows it at once; takes half a minute of a processor. */
  readonly preparesSolids?: boolean
}

/** The API without its socket: tests ask it through `app.request`. */
export function createApp({
  register,
  planner,
  desk,
  log,
  allowedHosts,
  version,
  preparesSolids,
  service,
  whoCalls = (c) => service.whoCalls(c),
  behindTls = false,
}: AppDependencies) {
  const replies = new JobReplies(desk)
  const orders = new OrderPlans({ register, desk, planning: new OrderPlanning({ register, planner }) })
  /** Builds what the page of a design shows first. What cannot be built says so to whoever asks for it. */
  const prepare = async (design: Design) => {
    await desk.ask(solidsWanted(design, ['mesh', 'report'], { asker: NOBODY_WAITS, isAhead: true }))
  }
  const app = new Hono<AppEnv>()
  app.use(securityHeaders(behindTls))
  app.use(async (c, next) => {
    const host = new URL(c.req.url).hostname
    if (allowedHosts !== undefined && !allowedHosts.has(host)) return refusal(c, 421, [wrongHost(host)])
    await next()
  })
  app.use('/api/*', async (c, next) => {
    await next()
    if (!c.res.headers.has('cache-control')) c.res.headers.set('cache-control', 'no-store')
  })
  app.use('/api/*', async (c, next) => {
    if (c.req.url.includes('%00')) return badInput(c, [HOLDS_NUL])
    await next()
  })
  app.use(
    '/api/*',
    sameOrigin(() => service.address),
  )
  app.use('/api/*', async (c, next) => {
    let caller: Promise<Caller> | undefined
    c.set('whoCalls', () => {
      caller ??= whoCalls(c)
      return caller
    })
    await next()
  })
  const people = service.register
  for (const subject of [
    signInRoutes({ service }),
    accountRoutes({ service }),
    peopleRoutes({ service }),
    custodyRoutes({ register, people, orders }),
    calculationRoutes({ planner, replies }),
    orderRoutes({ orders, replies }),
    paperRoutes({ orders, register, people, replies }),
    designRoutes({ register, saved: preparesSolids === true ? prepare : undefined }),
    solidRoutes({ register, replies }),
    jobRoutes({ desk, replies }),
    codeRoutes({ register }),
    floorRoutes({ register }),
    documentRoutes({ version, routes: () => routesOf(app) }),
  ])
    app.route('/api', subject.hono)
  app.all('/api/*', (c) => notFound(c, 'There is nothing here. /api/openapi.json lists what there is.'))
  assertEveryRouteDeclares(app)
  app.onError((cause, c) => troubleOrFault(cause, c, log))
  return { app, orders }
}

/** A damaged data folder can be mended by a person, and is told as an issue; anything else thrown is our bug. */
function troubleOrFault(cause: Error, c: Context, log: (line: string) => void) {
  if (cause instanceof RegisterTrouble) {
    log(cause.message)
    return refusal(c, 503, cause.issues)
  }
  if (cause instanceof JobTrouble) return refusal(c, 503, cause.issues) // its worker has logged it
  if (cause instanceof JobCancelled) return refusal(c, 409, [CANCELLED])
  const fault = newFault()
  const { method, path } = c.req
  log(faultLog(fault, cause, { doing: `${method} ${withoutSecretPart(path)}`, secret: holdsSecrets(path) }))
  return c.json({ issues: [], fault } satisfies ErrorBody, 500)
}

/** Nothing in an address is secret, but what somebody pastes there may be. */
const withoutSecretPart = (path: string) => path.replace(/[A-Za-z0-9_-]{40,}/g, '(withheld)')

function holdsSecrets(path: string): boolean {
  const [, , place, id] = path.split('/')
  return SECRET_PLACES.includes(place ?? '') || (place === 'calc' && calculationById(id ?? '')?.secret === true)
}

/** Orders and codes hold cuts; the others passwords, codes of second factors, links and tokens. */
const SECRET_PLACES = [
  'orders',
  'jobs',
  'codes',
  'sign-in',
  'sign-out',
  'account',
  'invitations',
  'people',
  'tokens',
  'me',
]

const CANCELLED: Issue = { path: '', code: 'contradiction', message: 'This was cancelled. Ask for it again.' }

/** Who asks for what is made ahead. */
const NOBODY_WAITS = { id: PLANNING, name: PLANNING }

const wrongHost = (host: string): Issue => ({
  path: 'host',
  code: 'not-a-choice',
  message: 'This server answers to this machine alone. Open it by the address it printed when it started.',
  value: host.slice(0, 80),
})

const A_YEAR = 31_536_000

/** No inline script, no frame around us, no guessing of types. Styles stay inline: formulas are set with them. */
const securityHeaders = (behindTls: boolean) =>
  secureHeaders({
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
    strictTransportSecurity: behindTls ? `max-age=${A_YEAR}` : false,
  })
