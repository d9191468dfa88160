import { createServer as createTlsServer } from 'node:https'
import { createRequire } from 'node:module'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import type { Issue } from '@haspwright/engine'
import { PLANNING, type Register, RegisterTrouble } from '@haspwright/register'
import { createAdaptorServer } from '@hono/node-server'
import { assertEveryRouteDeclares } from './access/routes.ts'
import { createApp } from './app.ts'
import { isEmpty, loadDemo } from './demo.ts'
import { faultLog, newFault } from './fault.ts'
import type { OrderPlans } from './order-plans.ts'
import { servePages } from './pages.ts'
import { PeopleService } from './people/people-service.ts'
import { provideMachineCipher } from './planning/machine-cipher.ts'
import { ThreadedPlanner } from './planning/threaded-planner.ts'

const { version } = createRequire(import.meta.url)('../package.json') as { version: string }
const THIS_MACHINE = new Set(['localhost', '127.0.0.1', '[::1]', '::1'])

export interface ServeOptions {
  readonly register: Register
  /** The data folder; plans and papers are kept in `cache` inside it. */
  readonly data: string
  readonly port: number
  readonly host: string
  readonly log: (line: string) => void
  /** Told the one link that lets the first administrator in; to be shown, never logged. */
  readonly onSetUpLink: (link: string) => void
  /** PEM texts of our own certificate and its key. */
  readonly tls?: { readonly cert: string; readonly key: string } | undefined
  /** As people open the pages, where a proxy stands before us: `https://works.example`. */
  readonly publicAddress?: string | undefined
}

export type Serving =
  | { readonly ok: true; readonly address: string; close(): Promise<void> }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** Starts the server with every stored order planned; an empty register is given the demo works first. */
export async function serve({
  register,
  data,
  port,
  host,
  log,
  onSetUpLink,
  tls,
  publicAddress,
}: ServeOptions): Promise<Serving> {
  provideMachineCipher()
  const planner = new ThreadedPlanner()
  const ownMachine = THIS_MACHINE.has(host)
  let address = publicAddress ?? ''
  const service = new PeopleService(register.people, () => address)
  const { app, orders } = createApp({
    register,
    planner,
    cacheFolder: join(data, 'cache'),
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
    if (await isEmpty(register)) await loadDemo(register, orders)
    else await planWhatIsNot(orders, log)
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

/** Orders that have no plan, such as after an update of the program, are planned before the pages open. */
async function planWhatIsNot(orders: OrderPlans, log: (line: string) => void): Promise<void> {
  for (const id of await orders.ids())
    try {
      if ((await orders.summary(id))?.planState === 'none') await orders.planAgain(id, { actor: PLANNING })
    } catch (cause) {
      // One order that cannot be read or planned must not keep the others from being served.
      if (cause instanceof RegisterTrouble) log(cause.message)
      else log(faultLog(newFault(), cause, { doing: `planning order ${id}`, secret: true }))
    }
}

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
