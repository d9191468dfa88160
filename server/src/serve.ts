import { createServer as createTlsServer } from 'node:https'
import { createRequire } from 'node:module'
import type { AddressInfo } from 'node:net'
import type { Issue } from '@haspwright/engine'
import { PLANNING, type Register } from '@haspwright/register'
import { createAdaptorServer } from '@hono/node-server'
import { assertEveryRouteDeclares } from './access/routes.ts'
import { createApp } from './app.ts'
import { isEmpty, loadDemo } from './demo.ts'
import { JobDesk } from './jobs/job-desk.ts'
import { JobWorker } from './jobs/job-worker.ts'
import type { OrderPlans } from './order-plans.ts'
import { servePages } from './pages.ts'
import { PeopleService } from './people/people-service.ts'
import { HandingPlanner } from './planning/handing-planner.ts'
import { provideMachineCipher } from './planning/machine-cipher.ts'

const { version } = createRequire(import.meta.url)('../package.json') as { version: string }
const THIS_MACHINE = new Set(['localhost', '127.0.0.1', '[::1]', '::1'])

export interface ServeOptions {
  readonly register: Register
  readonly port: number
  readonly host: string
  readonly log: (line: string) => void
  /** Told the one link that lets the first administrator in; to be shown, never logged. */
  readonly onSetUpLink: (link: string) => void
  /** PEM texts of our own certificate and its key. */
  readonly tls?: { readonly cert: string; readonly key: string } | undefined
  /** As people open the pages, where a proxy stands before us: `https://works.example`. */
  readonly publicAddress?: string | undefined
  /** How many long jobs this server works at itself at a time; as many as there are processors unless told otherwise, none with 0. */
  readonly jobsAtOnce?: number | undefined
}

export type Serving =
  | { readonly ok: true; readonly address: string; close(): Promise<void> }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** Starts the server; an empty register is given the demo works first. */
export async function serve({
  register,
  port,
  host,
  log,
  onSetUpLink,
  tls,
  publicAddress,
  jobsAtOnce,
}: ServeOptions): Promise<Serving> {
  provideMachineCipher()
  const planner = new HandingPlanner()
  const ownMachine = THIS_MACHINE.has(host)
  let address = publicAddress ?? ''
  const service = new PeopleService(register.people, () => address)
  const desk = new JobDesk(register.jobs)
  const worker = new JobWorker({
    ...{ register, planner, log, changed: (id) => desk.changed(id) },
    ...(jobsAtOnce === undefined ? {} : { atOnce: jobsAtOnce }),
  })
  desk.onAsked = () => worker.wake()
  const { app, orders } = createApp({
    register,
    planner,
    desk,
    log,
    version,
    service,
    behindTls: tls !== undefined || publicAddress?.startsWith('https:') === true,
    preparesSolids: true,
    ...(ownMachine ? { allowedHosts: hostsOf(publicAddress) } : {}),
  })
  servePages(app)
  assertEveryRouteDeclares(app)
  const server = createAdaptorServer({
    fetch: app.fetch,
    ...(tls === undefined ? {} : { createServer: createTlsServer, serverOptions: tls }),
  })
  const listening = await new Promise<Issue | undefined>((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => resolve(cannotListen(error, host, port)))
    server.listen(port, host, () => resolve(undefined))
  })
  const close = async () => {
    await new Promise<void>((resolve) => {
      server.close(() => resolve())
      if ('closeAllConnections' in server) server.closeAllConnections()
    })
    await worker.close()
    await planner.close()
  }
  if (listening !== undefined) {
    await planner.close()
    return { ok: false, issues: [listening] }
  }
  const { port: taken } = server.address() as AddressInfo // a TCP server has an address, not a pipe's name
  const ownAddress = `${tls === undefined ? 'http' : 'https'}://${host === '127.0.0.1' ? 'localhost' : host.includes(':') ? `[${host}]` : host}:${taken}`
  address ||= host === '0.0.0.0' || host === '::' ? ownAddress.replace(host, 'localhost') : ownAddress
  if (!ownMachine && tls === undefined)
    log(
      `Warning: ${host} can be reached from other machines without TLS, so that passwords can be read on the way. Give --tls-cert and --tls-key, or keep it behind a proxy that has them.`,
    )
  try {
    worker.start()
    if (await isEmpty(register)) await loadDemo(register, orders)
    else await askForPlans(orders, desk)
    await register.people.limits.tidy()
    if (await register.people.people.isEmpty())
      onSetUpLink(`${address}/invitation#${await register.people.invitations.makeSetUp()}`)
  } catch (cause) {
    await close()
    throw cause
  }
  return { ok: true, address: ownAddress, close }
}

/** A proxy on this machine asks in the name people use. */
function hostsOf(publicAddress: string | undefined): ReadonlySet<string> {
  return publicAddress === undefined ? THIS_MACHINE : new Set([...THIS_MACHINE, new URL(publicAddress).hostname])
}

/** The newest orders that have no plan, such as after a restore, are planned while the pages are open already. */
async function askForPlans(orders: OrderPlans, desk: JobDesk): Promise<void> {
  const { orders: newest } = await orders.page({ most: MOST_PLANNED_AHEAD })
  for (const { id, planState } of newest)
    if (planState === 'none') {
      const by = { asker: { id: PLANNING, name: PLANNING }, by: { actor: PLANNING } }
      const asked = await orders.planning(id, by)
      if (asked !== undefined) await desk.ask({ ...asked, isUrgent: false })
    }
}
const MOST_PLANNED_AHEAD = 100

function cannotListen({ code }: NodeJS.ErrnoException, host: string, port: number): Issue {
  if (code === 'EADDRINUSE')
    return {
      path: '--port',
      code: 'contradiction',
      message: 'Something else already listens on this port. Stop it, or take another port with --port or PORT.',
      value: port,
    }
  if (code === 'EACCES')
    return {
      path: '--port',
      code: 'out-of-range',
      message: 'This port may not be used. Take one above 1023.',
      value: port,
    }
  return {
    path: '--host',
    code: 'not-found',
    message: 'This machine cannot listen on this address.',
    value: host,
    allowed: 'an address of this machine, such as 127.0.0.1',
  }
}
