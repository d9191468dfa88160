import { createRequire } from 'node:module'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import type { Issue } from '@haspwright/engine'
import { PLANNING, type Register, RegisterTrouble } from '@haspwright/register'
import { createAdaptorServer } from '@hono/node-server'
import { createApp } from './app.ts'
import { isEmpty, loadDemo } from './demo.ts'
import { faultLog, newFault } from './fault.ts'
import type { OrderPlans } from './order-plans.ts'
import { servePages } from './pages.ts'
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
}

export type Serving =
  | { readonly ok: true; readonly address: string; close(): Promise<void> }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/** Starts the server with every stored order planned; an empty register is given the demo works first. */
export async function serve({ register, data, port, host, log }: ServeOptions): Promise<Serving> {
  provideMachineCipher()
  const planner = new ThreadedPlanner()
  const ownMachine = THIS_MACHINE.has(host)
  const { app, orders } = createApp({
    register,
    planner,
    cacheFolder: join(data, 'cache'),
    log,
    version,
    preparesSolids: true,
    ...(ownMachine ? { allowedHosts: THIS_MACHINE } : {}),
  })
  servePages(app)
  const server = createAdaptorServer({ fetch: app.fetch })
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
  if (!ownMachine)
    log(
      `Warning: ${host} can be reached from other machines, and nobody has to sign in yet. Keep it on a network you trust.`,
    )
  try {
    if (await isEmpty(register)) await loadDemo(register, orders)
    else await planWhatIsNot(orders, log)
  } catch (cause) {
    await close()
    throw cause
  }
  const { port: taken } = server.address() as AddressInfo // a TCP server has an address, not a pipe's name
  return {
    ok: true,
    address: `http://${host === '127.0.0.1' ? 'localhost' : host.includes(':') ? `[${host}]` : host}:${taken}`,
    close,
  }
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
