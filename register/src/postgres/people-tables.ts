import type { ColumnType, Generated } from 'kysely'

/** Tables of people and of what lets them in. No password, link or token can be read out of them. */
export interface PeopleTables {
  people: { works_id: string; person_id: string; name: string; active: Generated<boolean> }
  person_roles: { works_id: string; person_id: string; role: string; given_at: Generated<Date> }
  invitations: InvitationTable
  service_tokens: ServiceTokenTable
  lots_in_hand: LotInHandTable
  replacement_requests: ReplacementRequestTable
  renewal_requests: RenewalRequestTable
  rate_limits: { works_id: string; subject: string; began_at: Date; times: number }
  accounts: AccountTable
  account_credentials: CredentialTable
  account_sessions: SessionTable
  account_second_factors: { id: string; userId: string }
  account_passkeys: { id: string; userId: string }
}

interface InvitationTable {
  works_id: string
  invitation_id: string
  kind: 'set-up' | 'invitation' | 'new-password'
  token_hash: Buffer
  person_id: string | null
  name: string | null
  email: string | null
  roles: string[]
  invited_by: string
  made_at: Generated<Date>
  expires_at: Date
  used_at: ColumnType<Date | null, never, Date>
  withdrawn_at: ColumnType<Date | null, never, Date>
}

interface ServiceTokenTable {
  works_id: string
  token_id: string
  name: string
  prefix: string
  token_hash: Buffer
  scopes: string[]
  made_by: string
  made_at: Generated<Date>
  expires_at: Date
  last_used_at: ColumnType<Date | null, never, Date>
  revoked_at: ColumnType<Date | null, never, Date>
}

interface LotInHandTable {
  works_id: string
  order_id: string
  lot_id: string
  person_id: string
  given_at: Generated<Date>
  given_by: string
}

interface ReplacementRequestTable {
  works_id: string
  request_id: string
  order_id: string
  reason: string
  asked_by: string
  asked_at: Generated<Date>
  decision: ColumnType<'approved' | 'refused' | null, never, 'approved' | 'refused'>
  decided_by: ColumnType<string | null, never, string>
  decided_at: ColumnType<Date | null, never, Date>
  decided_because: ColumnType<string | null, never, string>
}

interface RenewalRequestTable {
  works_id: string
  request_id: string
  person_id: string
  renews: 'password' | 'second-factor'
  reason: string
  asked_by: string
  asked_at: Generated<Date>
  expires_at: Date
  decision: ColumnType<'approved' | 'refused' | null, never, 'approved' | 'refused'>
  decided_by: ColumnType<string | null, never, string>
  decided_at: ColumnType<Date | null, never, Date>
  decided_because: ColumnType<string | null, never, string>
  used_at: ColumnType<Date | null, never, Date>
}

interface SessionTable {
  id: string
  userId: string
  ipAddress: string | null
  userAgent: string | null
  secondFactor: boolean
  createdAt: Date
  expiresAt: Date
}

/** As the sign-in library names its columns. */
interface AccountTable {
  id: string
  name: string
  email: string
  twoFactorEnabled: Generated<boolean>
}

interface CredentialTable {
  id: string
  accountId: string
  providerId: string
  userId: string
  password: string | null
  updatedAt: Generated<Date>
}
