import { read, text } from '@haspwright/engine'
import type { MadeFile, PeopleRegister, Register } from '@haspwright/register'
import type { Context } from 'hono'
import { z } from 'zod'
import { may } from '../access/caller.ts'
import { type AppEnv, actorOf, personOf, Routes } from '../access/routes.ts'
import type { JobReplies } from '../jobs/job-replies.ts'
import { jsonBody } from '../json-body.ts'
import type { OrderPlans } from '../order-plans.ts'
import { tooOften } from '../people/asked.ts'
import { badInput, notFound, refusal } from '../replies.ts'
import type { PaperListing } from '../wire.ts'
import { whoDoes } from './because.ts'
import { whyNotOpened } from './custody.ts'

const MAX_ASKED_BYTES = 16 * 1024

/** What must be said before a paper with cuts of keys is opened. */
export const CodePaperRequest = z
  .strictObject({
    path: text('Paper', { max: 300 }),
    reason: text('Why the codes are needed', { min: 3, max: 300 }),
  })
  .meta({ title: 'Request for a paper with codes' })

/** The papers of an order. Those with cuts of keys are named, never linked, and opened one at a time with a reason. */
export function paperRoutes({
  orders,
  register,
  people,
  replies,
}: {
  orders: OrderPlans
  register: Register
  people: PeopleRegister
  replies: JobReplies
}) {
  const list = async (c: Context<AppEnv>, id: string) => {
    const papers = await orders.papersMade(id)
    return papers === undefined ? noPlan(c, id) : c.json({ papers: papers.map((paper) => listing(id, paper)) })
  }
  replies.set('papers', (c, _, { subject: id }) => list(c, id))
  return new Routes()
    .get('/orders/:id/papers', READ, async (c) => {
      const id = c.req.param('id')
      if ((await orders.papersMade(id)) !== undefined) return list(c, id)
      const printing = await orders.printing(id, actorOf(c))
      return printing === undefined ? noPlan(c, id) : replies.run(c, printing, { same: true })
    })
    .get('/orders/:id/papers/:path{.+}', READ, async (c) => {
      const { id, path } = c.req.param()
      const found = await orders.paperBytes(id, path, actorOf(c))
      if (found === undefined) return notFound(c, 'There is no such paper of this order.', path)
      const { tag: key, paper, bytes } = found
      if (bytes === undefined) return refusal(c, 403, [NOT_WITHOUT_REASON])
      const tag = `"${key}"`
      const headers = { etag: tag, 'cache-control': 'private, no-cache' }
      if (c.req.header('if-none-match') === tag) return c.body(null, 304, headers)
      return c.body(new Uint8Array(bytes), 200, { ...headers, 'content-type': paper.mediaType })
    })
    .post('/orders/:id/code-papers', may(['codes.see', 'codes.see-in-hand']), async (c) => {
      const id = c.req.param('id')
      const body = await jsonBody(c, MAX_ASKED_BYTES)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const asked = read(CodePaperRequest, body.value)
      if (!asked.ok) return badInput(c, asked.issues)
      const { path, reason } = asked.value
      const order = (await register.orders.latest(id))?.content
      if (order === undefined) return notFound(c, 'There is no order of this number.', id)
      const why = await whyNotOpened({ people, caller: personOf(c), order, path })
      if (why !== undefined) return refusal(c, 403, [why])
      const wait = await people.limits.take(`codes seen by ${personOf(c).id}`, LOOK_UPS)
      if (wait > 0) return tooOften(c, wait)
      const paper = await orders.secretPaper(id, path, personOf(c))
      if (paper === undefined) return notFound(c, 'There is no such paper with codes of this order.', path)
      // Written down before anybody sees it: a log that cannot be written opens nothing.
      await register.access.record({ who: whoDoes(c), order: id, paper: path, reason })
      return c.body(new Uint8Array(paper.bytes), 200, {
        'content-type': paper.mediaType,
        'cache-control': 'no-store',
      })
    })
}

const READ = may('orders.read', 'papers:read')
/** Enough for a day's lots; somebody who copies every sheet of the works is stopped. */
const LOOK_UPS = { times: 60, seconds: 3600 }

const noPlan = (c: Context, id: string) => notFound(c, 'There is no order of this number, or it has no plan yet.', id)

const NOT_WITHOUT_REASON = {
  path: '',
  code: 'contradiction',
  message: 'This paper holds cuts of keys. It is opened with a reason, which is written down.',
  allowed: 'POST to code-papers with path and reason',
} as const

function listing(order: string, { path, title, mediaType, secret, size }: MadeFile): PaperListing {
  const inUrl = path.split('/').map(encodeURIComponent).join('/')
  return {
    path,
    title,
    mediaType,
    bytes: size,
    secret,
    ...(secret ? {} : { href: `/api/orders/${encodeURIComponent(order)}/papers/${inUrl}` }),
  }
}
