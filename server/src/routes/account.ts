import { signedIn } from '../access/caller.ts'
import { personOf, Routes, SECOND_FACTOR } from '../access/routes.ts'
import { asked, replyOf, tooOften } from '../people/asked.ts'
import { NewPasskey, NewPassword, OwnPassword, SecondFactor } from '../people/people-schemas.ts'
import type { PeopleService } from '../people/people-service.ts'
import { notFound, refusal } from '../replies.ts'
import type { PasskeyListing, SessionListing } from '../wire.ts'

/** Passwords and codes that one person may try in a quarter of an hour. */
const OWN_TRIES = { times: 10, seconds: 900 }

/** One's own account: password, second factor, passkeys, sessions. */
export function accountRoutes({ service }: { service: PeopleService }) {
  const { people } = service.register
  return new Routes()
    .post('/account/password', signedIn, async (c) => {
      const body = await asked(c, NewPassword)
      if (!body.ok) return body.reply
      const person = personOf(c)
      const wait = await service.limit('own tries of', person.id, OWN_TRIES)
      if (wait > 0) return tooOften(c, wait)
      const { password: currentPassword, newPassword } = body.value
      const answered = await service.ask(c, 'POST', '/change-password', { currentPassword, newPassword })
      if (answered.ok) {
        await people.record('person.password-changed', person)
        await people.endSessions(person, { butNot: person.sessionId })
      }
      return replyOf(c, answered, () => ({ changed: true }))
    })
    .post('/account/second-factor', signedIn, async (c) => {
      const body = await asked(c, OwnPassword)
      if (!body.ok) return body.reply
      const wait = await service.limit('own tries of', personOf(c).id, OWN_TRIES)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask<{ totpURI: string; backupCodes: string[] }>(
        c,
        'POST',
        '/two-factor/enable',
        body.value,
      )
      return replyOf(c, answered, ({ totpURI, backupCodes }) => ({ uri: totpURI, recoveryCodes: backupCodes }))
    })
    .post('/account/second-factor/confirmation', signedIn, async (c) => {
      const body = await asked(c, SecondFactor)
      if (!body.ok) return body.reply
      const person = personOf(c)
      const wait = await service.limit('own tries of', person.id, OWN_TRIES)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask(c, 'POST', '/two-factor/verify-totp', {
        code: body.value.code.replace(/\s/g, ''),
      })
      if (answered.ok && !person.hasSecondFactor) await people.record('person.second-factor-enrolled', person)
      return replyOf(c, answered, () => ({ enrolled: true }))
    })
    .post('/account/second-factor/removal', signedIn, async (c) => {
      const body = await asked(c, OwnPassword)
      if (!body.ok) return body.reply
      const person = personOf(c)
      // A recovery code counts as one: who lost the telephone takes the factor off and enrols anew, and needs nobody else.
      if (!person.secondFactor) return refusal(c, 403, [SECOND_FACTOR])
      const wait = await service.limit('own tries of', person.id, OWN_TRIES)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask(c, 'POST', '/two-factor/disable', body.value)
      if (answered.ok) {
        await people.record('person.second-factor-removed', person)
        // The library has opened a session in place of this one; those elsewhere were opened with the factor that is gone.
        const [opened] = await people.sessions(person.id)
        await people.endSessions(person, opened === undefined ? {} : { butNot: opened.id })
      }
      return replyOf(c, answered, () => ({ removed: true }))
    })
    .post('/account/recovery-codes', signedIn, async (c) => {
      const body = await asked(c, OwnPassword)
      if (!body.ok) return body.reply
      const person = personOf(c)
      const wait = await service.limit('own tries of', person.id, OWN_TRIES)
      if (wait > 0) return tooOften(c, wait)
      const answered = await service.ask<{ backupCodes: string[] }>(
        c,
        'POST',
        '/two-factor/generate-backup-codes',
        body.value,
      )
      if (answered.ok) await people.record('person.recovery-codes-renewed', person)
      return replyOf(c, answered, ({ backupCodes }) => ({ recoveryCodes: backupCodes }))
    })
    .get('/account/passkeys', signedIn, async (c) =>
      replyOf(c, await service.ask<LibraryPasskey[]>(c, 'GET', '/passkey/list-user-passkeys'), (passkeys) => ({
        passkeys: passkeys.map(passkeyListing),
      })),
    )
    .get('/account/passkeys/options', signedIn, async (c) =>
      replyOf(c, await service.ask<object>(c, 'GET', '/passkey/generate-register-options'), (options) => options),
    )
    .post('/account/passkeys', signedIn, async (c) => {
      const body = await asked(c, NewPasskey)
      if (!body.ok) return body.reply
      const { name, credential } = body.value
      const answered = await service.ask<LibraryPasskey>(c, 'POST', '/passkey/verify-registration', {
        name,
        response: credential,
      })
      if (answered.ok) await people.record('person.passkey-added', personOf(c), { name })
      return replyOf(c, answered, (passkey) => ({ passkey: passkeyListing(passkey) }))
    })
    .delete('/account/passkeys/:id', signedIn, async (c) => {
      const answered = await service.ask(c, 'POST', '/passkey/delete-passkey', { id: c.req.param('id') })
      if (answered.ok) await people.record('person.passkey-removed', personOf(c))
      return answered.ok ? c.json({ removed: true }) : notFound(c, 'You have no such passkey.')
    })
    .get('/account/sessions', signedIn, async (c) => {
      const { id, sessionId } = personOf(c)
      const sessions = (await people.sessions(id)).map(
        (session): SessionListing => ({ ...session, current: session.id === sessionId }),
      )
      return c.json({ sessions })
    })
    .delete('/account/sessions/:id', signedIn, async (c) => {
      const ended = await people.endSessions(personOf(c), { only: c.req.param('id') })
      return ended === 0 ? notFound(c, 'You have no such session.') : c.json({ ended })
    })
    .post('/account/sign-out-everywhere', signedIn, async (c) => {
      const ended = await people.endSessions(personOf(c))
      return c.json({ ended })
    })
}

interface LibraryPasskey {
  readonly id: string
  readonly name?: string | null
  readonly createdAt?: string | null
  readonly backedUp?: boolean
}

const passkeyListing = ({ id, name, createdAt, backedUp }: LibraryPasskey): PasskeyListing => ({
  id,
  name: name ?? 'Passkey',
  ...(createdAt ? { since: createdAt } : {}),
  leavesTheDevice: backedUp === true,
})
