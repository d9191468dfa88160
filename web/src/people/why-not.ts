import { type Me, PERMISSIONS, type Permission, rolesThatMay } from '@haspwright/server/client'

type Person = Pick<Extract<Me, { signedIn: true }>, 'may' | 'mayWithSecondFactor'>

/** How somebody stands to an act: the server decides, and has said so with who is signed in. */
export type Leave =
  | { readonly kind: 'given' }
  /** A role gives it, but this session was opened without a second factor. */
  | { readonly kind: 'second-factor-missing'; readonly words: string }
  | { readonly kind: 'not-given'; readonly words: string }

/** @returns whether a person may do this here and now, and if not, why in words that name who may */
export function leaveFor(person: Person | undefined, permission: Permission): Leave {
  if (person?.may.includes(permission)) return { kind: 'given' }
  const { may } = PERMISSIONS[permission]
  if (person?.mayWithSecondFactor.includes(permission))
    return { kind: 'second-factor-missing', words: `To ${may}, sign in with your second factor.` }
  return { kind: 'not-given', words: `${listed(rolesThatMay(permission))} may ${may}.` }
}

function listed(titles: readonly string[]): string {
  const [first = 'Nobody', ...rest] = titles
  const last = rest.pop()
  const text = last === undefined ? first : `${[first, ...rest].join(', ')} or ${last}`
  return titles.length === 0 ? text : `The ${text.toLowerCase()}`
}
