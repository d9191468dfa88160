import type { Kysely } from 'kysely'
import { REFERENCE_TABLES } from '../postgres/reference-tables.ts'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

const WORKS = 'works_id text NOT NULL REFERENCES works'

/** Who is who, who may do what, who was let in how, and what needs two people. */
export const people = {
  up: (db: Kysely<unknown>): Promise<void> =>
    statements(db, [
      ...ACCOUNTS,
      `GRANT SELECT, INSERT, UPDATE, DELETE ON ${REFERENCE_TABLES.join(', ')} TO ${SERVER}`,
      `CREATE TABLE person_roles (
         ${WORKS}, person_id text NOT NULL, role text NOT NULL, given_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, person_id, role),
         FOREIGN KEY (works_id, person_id) REFERENCES people)`,
      `CREATE TABLE invitations (
         ${WORKS}, invitation_id text NOT NULL,
         kind text NOT NULL CHECK (kind IN ('set-up', 'invitation', 'new-password')),
         token_hash bytea NOT NULL, -- the link itself is nowhere
         person_id text, -- whose password it renews
         name text, email text, roles text[] NOT NULL DEFAULT '{}', invited_by text NOT NULL,
         made_at timestamptz NOT NULL DEFAULT now(), expires_at timestamptz NOT NULL,
         used_at timestamptz, withdrawn_at timestamptz,
         PRIMARY KEY (works_id, invitation_id),
         UNIQUE (works_id, token_hash),
         FOREIGN KEY (works_id, person_id) REFERENCES people,
         CHECK ((kind = 'new-password') = (person_id IS NOT NULL)),
         CHECK (used_at IS NULL OR withdrawn_at IS NULL))`,
      `CREATE TABLE service_tokens (
         ${WORKS}, token_id text NOT NULL, name text NOT NULL, prefix text NOT NULL,
         token_hash bytea NOT NULL, -- the token is shown once and kept nowhere
         scopes text[] NOT NULL CHECK (cardinality(scopes) > 0), made_by text NOT NULL,
         made_at timestamptz NOT NULL DEFAULT now(), expires_at timestamptz NOT NULL,
         last_used_at timestamptz, revoked_at timestamptz,
         PRIMARY KEY (works_id, token_id),
         UNIQUE (works_id, token_hash))`,
      `CREATE TABLE lots_in_hand (
         ${WORKS}, order_id text NOT NULL, lot_id text NOT NULL, person_id text NOT NULL,
         given_at timestamptz NOT NULL DEFAULT now(), given_by text NOT NULL,
         PRIMARY KEY (works_id, order_id, lot_id, person_id),
         FOREIGN KEY (works_id, person_id) REFERENCES people,
         CHECK (given_by <> person_id))`,
      `CREATE INDEX lots_in_hand_by_person ON lots_in_hand (works_id, person_id)`,
      `CREATE TABLE replacement_requests (
         ${WORKS}, request_id text NOT NULL, order_id text NOT NULL, reason text NOT NULL,
         asked_by text NOT NULL, asked_at timestamptz NOT NULL DEFAULT now(),
         decision text CHECK (decision IN ('approved', 'refused')), decided_by text, decided_at timestamptz,
         decided_because text,
         PRIMARY KEY (works_id, request_id),
         FOREIGN KEY (works_id, asked_by) REFERENCES people (works_id, person_id),
         FOREIGN KEY (works_id, decided_by) REFERENCES people (works_id, person_id),
         CHECK (num_nonnulls(decision, decided_by, decided_at, decided_because) IN (0, 4)),
         CONSTRAINT two_different_people CHECK (decided_by <> asked_by))`,
      // One that waits or was approved; a refused one may be asked for again.
      `CREATE UNIQUE INDEX replacement_requests_by_order ON replacement_requests (works_id, order_id)
         WHERE decision IS DISTINCT FROM 'refused'`,
      `CREATE TABLE rate_limits (
         ${WORKS}, subject text NOT NULL, began_at timestamptz NOT NULL, times integer NOT NULL,
         PRIMARY KEY (works_id, subject))`,
      `GRANT SELECT, INSERT, DELETE ON person_roles, lots_in_hand TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (used_at, withdrawn_at) ON invitations TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (last_used_at, revoked_at) ON service_tokens TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (decision, decided_by, decided_at, decided_because) ON replacement_requests TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE, DELETE ON rate_limits TO ${SERVER}`,
      ...DECIDED_ONCE,
    ]),
}

/** Columns as the sign-in library names them. It never makes or changes a table itself. */
const ACCOUNTS = [
  `CREATE TABLE accounts (
     id text PRIMARY KEY, name text NOT NULL, email text NOT NULL UNIQUE, "emailVerified" boolean NOT NULL DEFAULT false,
     image text, "twoFactorEnabled" boolean NOT NULL DEFAULT false,
     "createdAt" timestamptz NOT NULL DEFAULT now(), "updatedAt" timestamptz NOT NULL DEFAULT now())`,
  `CREATE TABLE account_credentials (
     id text PRIMARY KEY, "accountId" text NOT NULL, "providerId" text NOT NULL,
     "userId" text NOT NULL REFERENCES accounts ON DELETE CASCADE, password text,
     "accessToken" text, "refreshToken" text, "idToken" text, scope text,
     "accessTokenExpiresAt" timestamptz, "refreshTokenExpiresAt" timestamptz,
     "createdAt" timestamptz NOT NULL DEFAULT now(), "updatedAt" timestamptz NOT NULL DEFAULT now(),
     UNIQUE ("providerId", "accountId"))`,
  `CREATE INDEX account_credentials_by_account ON account_credentials ("userId")`,
  `CREATE TABLE account_sessions (
     id text PRIMARY KEY, token text NOT NULL UNIQUE, "userId" text NOT NULL REFERENCES accounts ON DELETE CASCADE,
     "expiresAt" timestamptz NOT NULL, "ipAddress" text, "userAgent" text,
     "secondFactor" boolean NOT NULL DEFAULT false,
     "createdAt" timestamptz NOT NULL DEFAULT now(), "updatedAt" timestamptz NOT NULL DEFAULT now())`,
  `CREATE INDEX account_sessions_by_account ON account_sessions ("userId")`,
  `CREATE TABLE account_challenges (
     id text PRIMARY KEY, identifier text NOT NULL, value text NOT NULL, "expiresAt" timestamptz NOT NULL,
     "createdAt" timestamptz NOT NULL DEFAULT now(), "updatedAt" timestamptz NOT NULL DEFAULT now())`,
  `CREATE INDEX account_challenges_by_identifier ON account_challenges (identifier)`,
  `CREATE TABLE account_second_factors (
     id text PRIMARY KEY, "userId" text NOT NULL REFERENCES accounts ON DELETE CASCADE,
     secret text NOT NULL, "backupCodes" text NOT NULL, -- both enciphered by the library
     verified boolean NOT NULL DEFAULT false, "failedVerificationCount" integer NOT NULL DEFAULT 0,
     "lockedUntil" timestamptz)`,
  `CREATE INDEX account_second_factors_by_account ON account_second_factors ("userId")`,
  `CREATE INDEX account_second_factors_by_secret ON account_second_factors (secret)`,
  `CREATE TABLE account_passkeys (
     id text PRIMARY KEY, name text, "publicKey" text NOT NULL,
     "userId" text NOT NULL REFERENCES accounts ON DELETE CASCADE, "credentialID" text NOT NULL UNIQUE,
     counter integer NOT NULL, "deviceType" text NOT NULL, "backedUp" boolean NOT NULL, transports text,
     "createdAt" timestamptz, aaguid text)`,
  `CREATE INDEX account_passkeys_by_account ON account_passkeys ("userId")`,
]

/** The server may enter a decision, and never enter another over it. */
const DECIDED_ONCE = [
  `CREATE FUNCTION refuse_second_decision() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS $$
     BEGIN RAISE EXCEPTION 'a request is decided once' USING ERRCODE = 'integrity_constraint_violation'; END $$`,
  `CREATE TRIGGER replacement_requests_decided_once BEFORE UPDATE ON replacement_requests FOR EACH ROW
     WHEN (OLD.decision IS NOT NULL) EXECUTE FUNCTION refuse_second_decision()`,
]
