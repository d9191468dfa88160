import type { Outcome } from '@haspwright/register'
import type { Context } from 'hono'
import { may } from '../access/caller.ts'
import { clashIn } from '../access/roles.ts'
import { type AppEnv, personOf, Routes } from '../access/routes.ts'
import { asked } from '../people/asked.ts'
import { NewInvitation, NewToken, RolesOfPerson } from '../people/people-schemas.ts'
import type { PeopleService } from '../people/people-service.ts'
import { badInput } from '../replies.ts'
import { rolesClash } from './sign-in.ts'

const RULES = { indispensable: 'administrator' }

/** People, invitations and tokens: what the administrator looks after. */
export function peopleRoutes({ service }: { service: PeopleService }) {
  const { people, invitations, tokens } = service.register
  const manage = may('people.manage')
  const link = (secret: string) => `${service.address}/invitation#${secret}`
  const by = (c: Context<AppEnv>) => ({ by: personOf(c), rules: RULES })

  return new Routes()
    .get('/people', manage, async (c) => c.json({ people: await people.list(), invitations: await invitations.open() }))
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
      answer(c, await people.clearSecondFactor(c.req.param('id'), by(c))),
    )
    .post('/people/:id/new-password', manage, async (c) => {
      const made = await invitations.renewPassword(c.req.param('id'), personOf(c))
      return made.ok
        ? c.json({ invitation: made.value.invitation, link: link(made.value.secret) }, 201)
        : answer(c, made)
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

const answer = <T extends object>(c: Context<AppEnv>, outcome: Outcome<T>) =>
  outcome.ok ? c.json({ done: outcome.value }) : badInput(c, outcome.issues)
