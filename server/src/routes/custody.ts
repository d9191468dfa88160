import type { Issue, Order } from '@haspwright/engine'
import type { Access as CodeAccess, PeopleRegister, Register } from '@haspwright/register'
import { has, may, type PersonCaller } from '../access/caller.ts'
import { mayOf } from '../access/roles.ts'
import { notAllowed, personOf, Routes } from '../access/routes.ts'
import type { OrderPlans } from '../order-plans.ts'
import { asked } from '../people/asked.ts'
import { LotGiven, ReplacementAsked, ReplacementDecided } from '../people/people-schemas.ts'
import { badInput, notFound, refusal } from '../replies.ts'

/** Who may have which codes: lots in hand, replacement keys that two people agree on, and the log of who saw what. */
export function custodyRoutes({
  register,
  people,
  orders,
}: {
  register: Register
  people: PeopleRegister
  orders: OrderPlans
}) {
  const { lots, replacements } = people
  return new Routes()
    .get('/codes/log', may('codes.log'), async (c) => {
      const entries: CodeAccess[] = await register.access.entries({ newest: MOST_ENTRIES })
      return c.json({ entries: entries.reverse() })
    })
    .get('/lots-in-hand', may(['codes.see-in-hand', 'lots.give']), async (c) => {
      const person = personOf(c)
      return c.json({ lots: await lots.list(has(person, 'lots.give') ? {} : { person: person.id }) })
    })
    .get('/builders', may('lots.give'), async (c) => {
      const builders = (await people.people.list()).filter(isBuilder).map(({ id, name }) => ({ id, name }))
      return c.json({ builders })
    })
    .post('/orders/:id/lots-in-hand', may('lots.give'), async (c) => {
      const body = await asked(c, LotGiven)
      if (!body.ok) return body.reply
      const order = c.req.param('id')
      const plan = await orders.plan(order)
      if (!plan?.lots.some(({ id }) => id === body.value.lot))
        return notFound(c, 'There is no such lot in the plan of this order.')
      const person = await people.people.find(body.value.person)
      if (person === undefined || !isBuilder(person)) return badInput(c, [NO_BUILDER])
      const given = await lots.give({ order, ...body.value }, personOf(c))
      return given.ok ? c.json({ lots: await lots.list({ order }) }) : badInput(c, given.issues)
    })
    .delete('/orders/:id/lots-in-hand/:lot/:person', may('lots.give'), async (c) => {
      const { id: order, lot, person } = c.req.param()
      const taken = await lots.takeBack({ order, lot, person }, personOf(c))
      return taken.ok ? c.json({ lots: await lots.list({ order }) }) : badInput(c, taken.issues)
    })
    .get('/replacements', may(['replacements.ask', 'replacements.decide']), async (c) =>
      c.json({ requests: await replacements.list(c.req.query('order')) }),
    )
    .post('/orders/:id/replacement', may('replacements.ask'), async (c) => {
      const body = await asked(c, ReplacementAsked)
      if (!body.ok) return body.reply
      const order = (await register.orders.latest(c.req.param('id')))?.content
      if (order === undefined) return notFound(c, 'There is no order of this number.')
      if (!needsTwo(order)) return badInput(c, [NOTHING_TO_REPLACE])
      const made = await replacements.ask(order.id, body.value.reason, personOf(c))
      return made.ok ? c.json({ request: made.value }, 201) : badInput(c, made.issues)
    })
    .post('/replacements/:id/decision', may('replacements.decide'), async (c) => {
      const body = await asked(c, ReplacementDecided)
      if (!body.ok) return body.reply
      const { decision: kind, reason } = body.value
      const decided = await replacements.decide(c.req.param('id'), { kind, reason }, personOf(c))
      if (decided.ok) return c.json({ request: decided.value })
      const status = decided.issues.some(({ code }) => code === 'not-allowed') ? 403 : 422
      return refusal(c, status, decided.issues)
    })
}

/** Why this person may not open this paper with codes now; `undefined` when they may. */
export async function whyNotOpened({
  people,
  caller,
  order,
  path,
}: {
  people: PeopleRegister
  caller: PersonCaller
  order: Order
  path: string
}): Promise<Issue | undefined> {
  if (!has(caller, 'codes.see')) {
    const inHand = await people.lots.list({ order: order.id, person: caller.id })
    if (!inHand.some(({ lot }) => path === `secret/stacks-${lot}.pdf` || path === `secret/keys-${lot}.pdf`))
      return NOT_IN_HAND
  }
  if (needsTwo(order) && !(await people.replacements.isApproved(order.id))) return TWO_PEOPLE
  return undefined
}

const needsTwo = ({ lines }: Order) => lines.some(({ keying }) => keying.kind === 'replacement')

const isBuilder = ({ active, roles }: { active: boolean; roles: readonly string[] }) =>
  active && mayOf(roles, 'codes.see-in-hand')

const MOST_ENTRIES = 1000

const NOT_IN_HAND: Issue = {
  ...notAllowed(may('codes.see')),
  message:
    'A builder sees the stacks and keys of the lot in hand alone. Ask the planner or the registrar to give you this lot.',
}
const TWO_PEOPLE: Issue = {
  path: 'order',
  code: 'not-allowed',
  message:
    'Replacement keys need two different people: one asks, another registrar approves. Ask under Codes, Replacement keys.',
}
const NO_BUILDER: Issue = {
  path: 'person',
  code: 'not-found',
  message: 'There is no key cutter or lock builder of this number.',
}
const NOTHING_TO_REPLACE: Issue = {
  path: 'order',
  code: 'contradiction',
  message: 'This order has no line for a replacement key.',
}
