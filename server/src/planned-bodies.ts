import { promisify } from 'node:util'
import { gzip } from 'node:zlib'
import type { Context } from 'hono'
import { LRUCache } from 'lru-cache'
import type { OrderStanding } from './order-plans.ts'
import type { PlannedOrder } from './wire.ts'

const READY_BYTES = 32 * 1024 * 1024

/**
 * Orders with their plans as they are sent. A plan is large and asked for often: it goes out letter by letter as it is kept, and is
 * compressed once.
 */
export class PlannedBodies {
  readonly #compressed = new LRUCache<string, Buffer<ArrayBuffer>>({
    maxSize: READY_BYTES,
    sizeCalculation: ({ byteLength }) => byteLength,
  })

  async reply(c: Context, standing: OrderStanding, status: 200 | 201): Promise<Response> {
    const headers = { 'content-type': 'application/json', vary: 'accept-encoding' }
    if (!/\bgzip\b/.test(c.req.header('accept-encoding') ?? '')) return c.body(bodyOf(standing), status, headers)
    return c.body(await this.#compress(standing), status, { ...headers, 'content-encoding': 'gzip' })
  }

  async #compress(standing: OrderStanding): Promise<Buffer<ArrayBuffer>> {
    const { planKey, plan: _, ...rest } = standing
    const key = `${planKey} ${JSON.stringify(rest)}`
    const known = this.#compressed.get(key)
    if (known !== undefined) return known
    const compressed = Buffer.from(await promisify(gzip)(bodyOf(standing)))
    this.#compressed.set(key, compressed)
    return compressed
  }
}

function bodyOf({ plan, planKey: _, ...rest }: OrderStanding): Buffer<ArrayBuffer> {
  const head = JSON.stringify(rest satisfies Omit<PlannedOrder, 'plan'>)
  return Buffer.concat([Buffer.from(`${head.slice(0, -1)},"plan":`), plan ?? Buffer.from('null'), Buffer.from('}')])
}
