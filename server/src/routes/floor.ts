import { type Issue, read, shapeLots } from '@haspwright/engine'
import type { Outcome, Register } from '@haspwright/register'
import type { Context } from 'hono'
import type { z } from 'zod'
import { may } from '../access/caller.ts'
import { type AppEnv, personOf, Routes } from '../access/routes.ts'
import { jsonBody } from '../json-body.ts'
import { notFound, refusal } from '../replies.ts'
import type { LotRecord } from '../wire.ts'
import { Ended, LoadStarted, LotCut, MeasurementTaken, OperationBegun } from './floor-schemas.ts'

const MAX_RECORD_BYTES = 64 * 1024

/**
 * What happens to lots on the floor. Whoever records something gives it its number, so that a tablet that lost the answer sends it
 * again; another thing under that number is refused.
 */
export function floorRoutes({ register }: { register: Register }) {
  const { lots, loads, operations, measurements, releases, genealogy } = register.floor

  /** Reads a record by its schema and answers with what came of it. */
  async function recorded<S extends z.ZodType>(
    c: Context<AppEnv>,
    schema: S,
    record: (asked: z.output<S>) => Promise<Outcome<object>>,
  ) {
    const body = await jsonBody(c, MAX_RECORD_BYTES)
    if (!body.ok) return refusal(c, body.status, body.issues)
    const asked = read(schema, body.value)
    return asked.ok ? answer(c, await record(asked.value)) : refusal(c, 422, asked.issues)
  }

  return new Routes()
    .get('/orders/:id/lots', READ, async (c) => {
      const order = await register.orders.latest(c.req.param('id'))
      return order === undefined ? noOrder(c) : c.json({ lots: await lots.list(order.id) })
    })
    .put('/orders/:id/lots/:lot', may('lots.open'), async (c) => {
      const order = await register.orders.latest(c.req.param('id'))
      if (order === undefined) return noOrder(c)
      const shape = shapeLots(order.content).find(({ id }) => id === c.req.param('lot'))
      if (shape === undefined) return notFound(c, 'The lines of this order make no such lot.', c.req.param('lot'))
      const { id, line, design, locks } = shape
      const version = (await register.designs.latest(design))?.version
      const designVersion = version === undefined ? {} : { designVersion: version }
      return answer(c, await lots.open({ id, order: order.id, line, design, ...designVersion, locks }, personOf(c)))
    })
    .get('/orders/:id/locks/:lock/origin', READ, async (c) => {
      const origin = await genealogy.originOf({ order: c.req.param('id'), name: c.req.param('lock') })
      return origin === undefined ? notFound(c, 'This order has no such lock.', c.req.param('lock')) : c.json(origin)
    })
    .get('/lots/:lot', READ, async (c) => {
      const lot = await lots.find(c.req.param('lot'))
      if (lot === undefined) return notFound(c, 'No lot of this number was opened.', c.req.param('lot'))
      const { id } = lot
      return c.json({
        lot,
        heats: await genealogy.heatsOf(id),
        loads: await loads.ofLot(id),
        operations: await operations.list(id),
        measurements: await measurements.list(id),
      } satisfies LotRecord)
    })
    .post('/lots/:lot/heats', RECORD, (c) =>
      recorded(c, LotCut, ({ heat }) => lots.cutFrom(c.req.param('lot'), heat, personOf(c))),
    )
    .put('/lots/:lot/operations/:operation', RECORD, (c) =>
      recorded(c, OperationBegun, ({ startedAt, ...asked }) => {
        const { operation: id, lot } = c.req.param()
        return operations.begin({ id, lot, ...asked, startedAt: momentOf(startedAt) }, personOf(c))
      }),
    )
    .post('/operations/:operation/end', RECORD, (c) =>
      recorded(c, Ended, ({ endedAt }) => operations.end(c.req.param('operation'), momentOf(endedAt), personOf(c))),
    )
    .put('/lots/:lot/measurements/:measurement', RECORD, (c) =>
      recorded(c, MeasurementTaken, ({ measuredAt, ...asked }) => {
        const { measurement: id, lot } = c.req.param()
        return measurements.record({ id, lot, ...asked, measuredAt: momentOf(measuredAt) }, personOf(c))
      }),
    )
    .post('/lots/:lot/release', may('lots.release'), async (c) =>
      answer(c, await releases.release(c.req.param('lot'), personOf(c))),
    )
    .get('/loads/:load', READ, async (c) => {
      const load = await loads.find(c.req.param('load'))
      return load === undefined ? noLoad(c) : c.json(load)
    })
    .put('/loads/:load', RECORD, (c) =>
      recorded(c, LoadStarted, ({ startedAt, ...asked }) =>
        loads.start({ id: c.req.param('load'), ...asked, startedAt: momentOf(startedAt) }, personOf(c)),
      ),
    )
    .post('/loads/:load/end', RECORD, (c) =>
      recorded(c, Ended, ({ endedAt }) => loads.end(c.req.param('load'), momentOf(endedAt), personOf(c))),
    )
    .get('/loads/:load/locks', READ, async (c) => {
      const load = await loads.find(c.req.param('load'))
      return load === undefined ? noLoad(c) : c.json({ locks: await genealogy.locksOf(load.id) })
    })
}

const READ = may('orders.read')
const RECORD = may('floor.record')

const momentOf = (text: string | undefined) => (text === undefined ? undefined : new Date(text))

function answer(c: Context<AppEnv>, outcome: Outcome<object>) {
  return outcome.ok ? c.json(outcome.value) : refusal(c, statusOf(c, outcome.issues), outcome.issues)
}

/** What the address names is not there, something else is recorded already, or the body does not fit. */
function statusOf(c: Context<AppEnv>, issues: readonly Issue[]) {
  if (issues.some(({ code, path }) => code === 'not-found' && c.req.param(path) !== undefined)) return 404
  return issues.some(({ code }) => code === 'contradiction') ? 409 : 422
}

const noOrder = (c: Context<AppEnv>) => notFound(c, 'There is no order of this number.', c.req.param('id'))
const noLoad = (c: Context<AppEnv>) => notFound(c, 'No load of this number was started.', c.req.param('load'))
