import type { Outcome } from '@haspwright/register'
import type { Context } from 'hono'
import { may } from '../access/caller.ts'
import { clashIn, renewedByTwo } from '../access/roles.ts'
import { type AppEnv, personOf, Routes } from '../access/routes.ts'
import { asked } from '../people/asked.ts'
import { NewInvitation, NewToken, RenewalAsked, RenewalDecided, RolesOfPerson } from '../people/people-schemas.ts'
import type { PeopleService } from '../people/people-service.ts'
import { badInput, refusal } from '../replies.ts'
import type { PersonListing } from '../wire.ts'
import { rolesClash } from './sign-in.ts'

const RULES = { indispensable: 'administrator', twoPeopleFor: renewedByTwo }

/** People, invitations and tokens: what the administrator looks after. */
export function peopleRoutes({ service }: { service: PeopleService }) {
  const { people, invitations, tokens, renewals } = service.register
  const manage = may('people.manage')
  const link = (secret: string) => `${service.address}/invitation#${secret}`
  const by = (c: Context<AppEnv>) => ({ by: personOf(c), rules: RULES })

  return new Routes()
    .get('/people', manage, async (c) => {
      const two = await people.needingTwo(RULES)
      const listed = (await people.list()).map((each): PersonListing => ({ ...each, renewedByTwo: two.has(each.id) }))
      return c.json({ people: listed, invitations: await invitations.open() })
    })
    .put('/people/:id/roles', manage, async (c) => {
      const body = await asked(c, RolesOfPerson)
      if (!body.ok) return body.reply
      const clash = clashIn(body.value.roles)
      if (clash !== undefined) return badInput(c, [rolesClash(clash)])
      return answer(c, await people.setRoles(c.req.param('id'), body.value.roles, by(c)))
    })
    .post('/people/:id/shut-out', manage, async (c) =>
      answer(c, await people.setActive(c.req.param('id'), false, by(c))),
    )
    .post('/people/:id/let-in', manage, async (c) => answer(c, await people.setActive(c.req.param('id'), true, by(c))))
    .delete('/people/:id/second-factor', manage, async (c) =>
      answer(c, await people.clearSecondFactor(c.req.param('id'), { by: personOf(c), leave: RULES })),
    )
    .post('/people/:id/new-password', manage, async (c) => {
      const made = await invitations.renewPassword(c.req.param('id'), { by: personOf(c), leave: RULES })
      return made.ok
        ? c.json({ invitation: made.value.invitation, link: link(made.value.secret) }, 201)
        : answer(c, made)
    })
    .get('/renewals', DECIDE, async (c) => c.json({ renewals: await renewals.open() }))
    .post('/people/:id/renewals', manage, async (c) => {
      const body = await asked(c, RenewalAsked)
      if (!body.ok) return body.reply
      const made = await renewals.ask({ person: c.req.param('id'), ...body.value }, personOf(c))
      return made.ok ? c.json({ renewal: made.value }, 201) : answer(c, made)
    })
    .post('/renewals/:id/decision', DECIDE, async (c) => {
      const body = await asked(c, RenewalDecided)
      if (!body.ok) return body.reply
      const { decision: kind, reason } = body.value
      const decided = await renewals.decide(c.req.param('id'), { kind, reason }, personOf(c))
      return decided.ok ? c.json({ renewal: decided.value }) : answer(c, decided)
    })
    .post('/invitations', manage, async (c) => {
      const body = await asked(c, NewInvitation)
      if (!body.ok) return body.reply
      const clash = clashIn(body.value.roles)
      if (clash !== undefined) return badInput(c, [rolesClash(clash)])
      const made = await invitations.invite(body.value, personOf(c))
      return made.ok
        ? c.json({ invitation: made.value.invitation, link: link(made.value.secret) }, 201)
        : answer(c, made)
    })
    .delete('/invitations/:id', manage, async (c) =>
      answer(c, await invitations.withdraw(c.req.param('id'), personOf(c))),
    )
    .get('/tokens', may('tokens.manage'), async (c) => c.json({ tokens: await tokens.list() }))
    .post('/tokens', may('tokens.manage'), async (c) => {
      const body = await asked(c, NewToken)
      return body.ok ? c.json(await tokens.make(body.value, personOf(c)), 201) : body.reply
    })
    .delete('/tokens/:id', may('tokens.manage'), async (c) =>
      answer(c, await tokens.revoke(c.req.param('id'), personOf(c))),
    )
}

const DECIDE = may('renewals.decide')

/** What was done, or why not: 403 where it is another person's to do. */
function answer<T extends object>(c: Context<AppEnv>, outcome: Outcome<T>) {
  if (outcome.ok) return c.json({ done: outcome.value })
  return refusal(c, outcome.issues.some(({ code }) => code === 'not-allowed') ? 403 : 422, outcome.issues)
}
