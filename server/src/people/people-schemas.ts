import { choice, text } from '@haspwright/engine'
import { z } from 'zod'
import { ROLE_NAMES, SCOPE_NAMES } from '../access/roles.ts'
import { LONGEST_PASSWORD, SHORTEST_PASSWORD } from './sign-in-library.ts'

const email = z
  .string()
  .max(120)
  .regex(/^[^\s@]+@[^\s@]+$/)
  .meta({ title: 'E-mail address' })
const password = text('Password', { max: LONGEST_PASSWORD })
const newPassword = text('New password', { min: SHORTEST_PASSWORD, max: LONGEST_PASSWORD })
const link = text('Secret part of the link', { max: 100 })
const personName = text('Name', { max: 80 })
const roles = z.array(choice('Role', ROLE_NAMES)).max(ROLE_NAMES.length).meta({ title: 'Roles' })
const reason = text('Why', { min: 3, max: 300 })
/** What the browser's passkey dialog gave; the library reads it. */
const credential = z.record(z.string(), z.unknown()).meta({ title: 'Answer of the passkey' })

export const SignIn = z.strictObject({ email, password }).meta({ title: 'Sign in' })
export const SecondFactor = z
  .strictObject({ code: text('Code of the second factor, or a recovery code', { max: 20 }) })
  .meta({ title: 'Second factor' })
export const PasskeySignIn = z.strictObject({ credential }).meta({ title: 'Sign in with a passkey' })
export const OpenLink = z.strictObject({ link }).meta({ title: 'Link' })
export const AcceptLink = z
  .strictObject({
    link,
    name: personName.optional(),
    email: email.optional(),
    password: newPassword,
    roles: roles.optional(),
  })
  .meta({ title: 'Acceptance of an invitation' })
export const NewPassword = z.strictObject({ password, newPassword }).meta({ title: 'Change of password' })
export const OwnPassword = z.strictObject({ password }).meta({ title: 'Own password, once more' })
export const NewPasskey = z
  .strictObject({ name: text('Name of the passkey', { max: 60 }), credential })
  .meta({ title: 'New passkey' })
export const NewInvitation = z.strictObject({ name: personName, email, roles }).meta({ title: 'Invitation' })
export const RolesOfPerson = z.strictObject({ roles }).meta({ title: 'Roles of a person' })
export const NewToken = z
  .strictObject({
    name: text('Service account', { max: 60 }),
    scopes: z.array(choice('Good for', SCOPE_NAMES)).min(1).max(SCOPE_NAMES.length).meta({ title: 'Good for' }),
    days: z.int().min(1).max(730).meta({ title: 'Days until it ends' }),
  })
  .meta({ title: 'New token' })
export const ReplacementAsked = z.strictObject({ reason }).meta({ title: 'Request for replacement keys' })
export const ReplacementDecided = z
  .strictObject({ decision: choice('Decision', ['approved', 'refused']), reason })
  .meta({ title: 'Decision on replacement keys' })
export const RenewalAsked = z
  .strictObject({
    renews: choice('What was lost', ['password', 'second-factor'], { 'second-factor': 'second factor' }),
    reason,
  })
  .meta({ title: 'Request to let somebody in anew' })
export const RenewalDecided = z
  .strictObject({ decision: choice('Decision', ['approved', 'refused']), reason })
  .meta({ title: 'Decision on letting somebody in anew' })
export const LotGiven = z
  .strictObject({ lot: text('Lot', { max: 80 }), person: text('Person', { max: 40 }) })
  .meta({ title: 'Lot in hand' })
