import type { Role, Scope } from './access/roles.ts'
import type {
  CodeAccess,
  InvitationListing,
  LotInHandListing,
  Me,
  PasskeyListing,
  PersonListing,
  RenewalListing,
  ReplacementListing,
  SessionListing,
  TokenListing,
} from './wire.ts'

/** Signing in, accounts, people, tokens, and who has which codes. Each throws `ServerRefusal` for anything that is not a result. */
export interface PeopleClient {
  me(): Promise<Me>
  /** @returns whether a second factor is still to come */
  signIn(email: string, password: string): Promise<{ signedIn: boolean }>
  secondFactor(code: string): Promise<void>
  /** What the browser asks a passkey, and its answer. */
  passkeyQuestion(): Promise<object>
  passkeySignIn(credential: object): Promise<void>
  signOut(): Promise<void>
  openLink(link: string): Promise<OpenedLink>
  acceptLink(given: AcceptedLink): Promise<{ signedIn: boolean }>
  changePassword(password: string, newPassword: string): Promise<void>
  beginSecondFactor(password: string): Promise<{ uri: string; recoveryCodes: readonly string[] }>
  confirmSecondFactor(code: string): Promise<void>
  /** Wants a session that was opened with it, by a recovery code if need be. */
  removeSecondFactor(password: string): Promise<void>
  newRecoveryCodes(password: string): Promise<readonly string[]>
  listPasskeys(): Promise<readonly PasskeyListing[]>
  newPasskeyQuestion(): Promise<object>
  addPasskey(name: string, credential: object): Promise<void>
  removePasskey(id: string): Promise<void>
  listSessions(): Promise<readonly SessionListing[]>
  endSession(id: string): Promise<void>
  signOutEverywhere(): Promise<void>
  listPeople(): Promise<{ people: readonly PersonListing[]; invitations: readonly InvitationListing[] }>
  setRoles(id: string, roles: readonly Role[]): Promise<void>
  shutOut(id: string): Promise<void>
  letIn(id: string): Promise<void>
  clearSecondFactor(id: string): Promise<void>
  /** Asks that somebody who may see codes be let in anew; somebody else decides. */
  askRenewal(id: string, renews: RenewalListing['renews'], reason: string): Promise<void>
  listRenewals(): Promise<readonly RenewalListing[]>
  decideRenewal(id: string, decision: 'approved' | 'refused', reason: string): Promise<void>
  /** @returns the link to hand over; it is shown this once */
  renewPassword(id: string): Promise<string>
  invite(invited: { name: string; email: string; roles: readonly Role[] }): Promise<string>
  withdrawInvitation(id: string): Promise<void>
  listTokens(): Promise<readonly TokenListing[]>
  /** @returns the token; it is shown this once */
  makeToken(asked: { name: string; scopes: readonly Scope[]; days: number }): Promise<string>
  revokeToken(id: string): Promise<void>
  codeLog(): Promise<readonly CodeAccess[]>
  listReplacements(): Promise<readonly ReplacementListing[]>
  askReplacement(order: string, reason: string): Promise<void>
  decideReplacement(id: string, decision: 'approved' | 'refused', reason: string): Promise<void>
  listLotsInHand(): Promise<readonly LotInHandListing[]>
  listBuilders(): Promise<readonly { id: string; name: string }[]>
  giveLot(order: string, lot: string, person: string): Promise<void>
  takeLotBack(order: string, lot: string, person: string): Promise<void>
}

export interface OpenedLink {
  readonly kind: 'set-up' | 'invitation' | 'new-password'
  readonly name?: string
  readonly email?: string
  readonly roles: readonly string[]
  readonly expiresAt: string
}

export interface AcceptedLink {
  readonly link: string
  readonly password: string
  readonly name?: string
  readonly email?: string
  readonly roles?: readonly Role[]
}

/** Sends a request and reads the JSON of its answer. */
export type Send = <T>(method: string, path: string, body?: unknown) => Promise<T>

export function peopleClient(send: Send): PeopleClient {
  const get = <T>(path: string) => send<T>('GET', path)
  const post = <T = object>(path: string, body: object = {}) => send<T>('POST', path, body)
  const nothing = async (asked: Promise<unknown>): Promise<void> => void (await asked)
  const part = encodeURIComponent
  return {
    me: () => get('/api/me'),
    signIn: (email, password) => post('/api/sign-in', { email, password }),
    secondFactor: (code) => nothing(post('/api/sign-in/second-factor', { code })),
    passkeyQuestion: () => get('/api/sign-in/passkey'),
    passkeySignIn: (credential) => nothing(post('/api/sign-in/passkey', { credential })),
    signOut: () => nothing(post('/api/sign-out')),
    openLink: (link) => post('/api/invitations/open', { link }),
    acceptLink: (given) => post('/api/invitations/accept', given),
    changePassword: (password, newPassword) => nothing(post('/api/account/password', { password, newPassword })),
    beginSecondFactor: (password) => post('/api/account/second-factor', { password }),
    confirmSecondFactor: (code) => nothing(post('/api/account/second-factor/confirmation', { code })),
    removeSecondFactor: (password) => nothing(post('/api/account/second-factor/removal', { password })),
    newRecoveryCodes: async (password) =>
      (await post<{ recoveryCodes: string[] }>('/api/account/recovery-codes', { password })).recoveryCodes,
    listPasskeys: async () => (await get<{ passkeys: PasskeyListing[] }>('/api/account/passkeys')).passkeys,
    newPasskeyQuestion: () => get('/api/account/passkeys/options'),
    addPasskey: (name, credential) => nothing(post('/api/account/passkeys', { name, credential })),
    removePasskey: (id) => nothing(send('DELETE', `/api/account/passkeys/${part(id)}`)),
    listSessions: async () => (await get<{ sessions: SessionListing[] }>('/api/account/sessions')).sessions,
    endSession: (id) => nothing(send('DELETE', `/api/account/sessions/${part(id)}`)),
    signOutEverywhere: () => nothing(post('/api/account/sign-out-everywhere')),
    listPeople: () => get('/api/people'),
    setRoles: (id, roles) => nothing(send('PUT', `/api/people/${part(id)}/roles`, { roles })),
    shutOut: (id) => nothing(post(`/api/people/${part(id)}/shut-out`)),
    letIn: (id) => nothing(post(`/api/people/${part(id)}/let-in`)),
    clearSecondFactor: (id) => nothing(send('DELETE', `/api/people/${part(id)}/second-factor`)),
    askRenewal: (id, renews, reason) => nothing(post(`/api/people/${part(id)}/renewals`, { renews, reason })),
    listRenewals: async () => (await get<{ renewals: RenewalListing[] }>('/api/renewals')).renewals,
    decideRenewal: (id, decision, reason) => nothing(post(`/api/renewals/${part(id)}/decision`, { decision, reason })),
    renewPassword: async (id) => (await post<{ link: string }>(`/api/people/${part(id)}/new-password`)).link,
    invite: async (invited) => (await post<{ link: string }>('/api/invitations', invited)).link,
    withdrawInvitation: (id) => nothing(send('DELETE', `/api/invitations/${part(id)}`)),
    listTokens: async () => (await get<{ tokens: TokenListing[] }>('/api/tokens')).tokens,
    makeToken: async (asked) => (await post<{ token: string }>('/api/tokens', asked)).token,
    revokeToken: (id) => nothing(send('DELETE', `/api/tokens/${part(id)}`)),
    codeLog: async () => (await get<{ entries: CodeAccess[] }>('/api/codes/log')).entries,
    listReplacements: async () => (await get<{ requests: ReplacementListing[] }>('/api/replacements')).requests,
    askReplacement: (order, reason) => nothing(post(`/api/orders/${part(order)}/replacement`, { reason })),
    decideReplacement: (id, decision, reason) =>
      nothing(post(`/api/replacements/${part(id)}/decision`, { decision, reason })),
    listLotsInHand: async () => (await get<{ lots: LotInHandListing[] }>('/api/lots-in-hand')).lots,
    listBuilders: async () => (await get<{ builders: { id: string; name: string }[] }>('/api/builders')).builders,
    giveLot: (order, lot, person) => nothing(post(`/api/orders/${part(order)}/lots-in-hand`, { lot, person })),
    takeLotBack: (order, lot, person) =>
      nothing(send('DELETE', `/api/orders/${part(order)}/lots-in-hand/${part(lot)}/${part(person)}`)),
  }
}
