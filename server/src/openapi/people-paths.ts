import { jsonSchemaOf } from '../json-schemas.ts'
import * as bodies from '../people/people-schemas.ts'
import { type Json, parameter } from './words.ts'

export const peopleSchemas: Json = Object.fromEntries(
  Object.entries(bodies).map(([name, schema]) => [name, jsonSchemaOf(schema)]),
)

const ref = (name: keyof typeof bodies | 'Error'): Json => ({ $ref: `#/components/schemas/${name}` })
const content = (schema: Json) => ({ 'application/json': { schema } })
const answered = (description: string, status = 200): Json => ({
  [status]: { description, content: content({ type: 'object' }) },
  500: { description: 'A fault of ours, with its reference', content: content(ref('Error')) },
})
const NOT_DONE = { description: 'Not done: every issue at once', content: content(ref('Error')) }

/** An operation; one with a body may be refused for what stands in it. */
function operation(
  summary: string,
  { body, status = 200 }: { body?: keyof typeof bodies; status?: number } = {},
): Json {
  if (body === undefined) return { summary, responses: { ...answered('Done', status), 404: NOT_DONE } }
  return {
    summary,
    requestBody: { required: true, content: content(ref(body)) },
    responses: {
      ...answered('Done', status),
      404: NOT_DONE,
      413: NOT_DONE,
      415: NOT_DONE,
      422: NOT_DONE,
      429: NOT_DONE,
    },
  }
}
const named = (names: Readonly<Record<string, string>>) => ({
  parameters: Object.entries(names).map(([name, description]) => parameter(name, description)),
})
const person = named({ id: 'Number of the person, such as p-4k7m2xq9' })
const order = named({ id: 'Order number' })

/** Signing in and out, and coming in by a link. */
export const signInPaths: Json = {
  '/api/me': { get: operation('Who is signed in, and what they may do') },
  '/api/sign-in': { post: operation('Sign in with a password', { body: 'SignIn' }) },
  '/api/sign-in/second-factor': { post: operation('The second step of signing in', { body: 'SecondFactor' }) },
  '/api/sign-in/passkey': {
    get: operation('What the passkey is asked'),
    post: operation('Sign in with a passkey', { body: 'PasskeySignIn' }),
  },
  '/api/sign-out': { post: operation('Sign out here') },
  '/api/invitations/open': { post: operation('What a link lets in', { body: 'OpenLink' }) },
  '/api/invitations/accept': { post: operation('Come in by a link, which is then used up', { body: 'AcceptLink' }) },
}

/** One's own account. */
export const accountPaths: Json = {
  '/api/account/password': { post: operation('Change the password; other sessions end', { body: 'NewPassword' }) },
  '/api/account/second-factor': { post: operation('Begin to enrol a second factor', { body: 'OwnPassword' }) },
  '/api/account/second-factor/confirmation': {
    post: operation('Finish it with a first code', { body: 'SecondFactor' }),
  },
  '/api/account/second-factor/removal': {
    post: operation('Take the own second factor off, to enrol another', { body: 'OwnPassword' }),
  },
  '/api/account/recovery-codes': { post: operation('New recovery codes in place of the old', { body: 'OwnPassword' }) },
  '/api/account/passkeys': {
    get: operation('Own passkeys'),
    post: operation('Add a passkey', { body: 'NewPasskey' }),
  },
  '/api/account/passkeys/options': { get: operation('What a new passkey is asked') },
  '/api/account/passkeys/{id}': { ...named({ id: 'The passkey' }), delete: operation('Remove a passkey') },
  '/api/account/sessions': { get: operation('Where one is signed in') },
  '/api/account/sessions/{id}': { ...named({ id: 'The session' }), delete: operation('Sign out there') },
  '/api/account/sign-out-everywhere': { post: operation('Sign out everywhere') },
}

/** What the administrator looks after. */
export const peoplePaths: Json = {
  '/api/people': { get: operation('People and open invitations') },
  '/api/people/{id}/roles': { ...person, put: operation('Give a person these roles', { body: 'RolesOfPerson' }) },
  '/api/people/{id}/shut-out': { ...person, post: operation('Let a person in no more') },
  '/api/people/{id}/let-in': { ...person, post: operation('Let a person in again') },
  '/api/people/{id}/second-factor': { ...person, delete: operation('Take off a lost second factor') },
  '/api/people/{id}/new-password': { ...person, post: operation('A link for a new password', { status: 201 }) },
  '/api/people/{id}/renewals': {
    ...person,
    post: operation('Ask that somebody who may see codes be let in anew', { body: 'RenewalAsked', status: 201 }),
  },
  '/api/renewals': { get: operation('Requests to let somebody in anew that are open') },
  '/api/renewals/{id}/decision': {
    ...named({ id: 'The request' }),
    post: operation('Approve or refuse; neither whoever asked nor whoever is let in anew can', {
      body: 'RenewalDecided',
    }),
  },
  '/api/invitations': {
    post: operation('Invite somebody; the link is shown once', { body: 'NewInvitation', status: 201 }),
  },
  '/api/invitations/{id}': { ...named({ id: 'The invitation' }), delete: operation('Withdraw an invitation') },
  '/api/tokens': {
    get: operation('Tokens of service accounts, without the tokens themselves'),
    post: operation('Make a token; it is shown once', { body: 'NewToken', status: 201 }),
  },
  '/api/tokens/{id}': { ...named({ id: 'The service account' }), delete: operation('Revoke a token') },
}

/** Who has which codes. */
export const custodyPaths: Json = {
  '/api/codes/log': { get: operation('Who saw which code and why') },
  '/api/builders': { get: operation('Key cutters and lock builders') },
  '/api/lots-in-hand': { get: operation('Lots in hand: all, or one’s own') },
  '/api/orders/{id}/lots-in-hand': { ...order, post: operation('Give a lot to a builder', { body: 'LotGiven' }) },
  '/api/orders/{id}/lots-in-hand/{lot}/{person}': {
    ...named({ id: 'Order number', lot: 'The lot', person: 'Number of the builder' }),
    delete: operation('Take a lot back'),
  },
  '/api/replacements': { get: operation('Requests for replacement keys') },
  '/api/orders/{id}/replacement': {
    ...order,
    post: operation('Ask that replacement keys may be cut', { body: 'ReplacementAsked', status: 201 }),
  },
  '/api/replacements/{id}/decision': {
    ...named({ id: 'The request' }),
    post: operation('Approve or refuse; whoever asked cannot', { body: 'ReplacementDecided' }),
  },
}
