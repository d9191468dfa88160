import type { Kysely } from 'kysely'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

/** Whoever may see codes is let in anew by two different people: one asks, another decides. */
export const renewals = {
  up: (db: Kysely<unknown>): Promise<void> =>
    statements(db, [
      `CREATE TABLE renewal_requests (
         works_id text NOT NULL REFERENCES works, request_id text NOT NULL, person_id text NOT NULL,
         renews text NOT NULL CHECK (renews IN ('password', 'second-factor')), reason text NOT NULL,
         asked_by text NOT NULL, asked_at timestamptz NOT NULL DEFAULT now(), expires_at timestamptz NOT NULL,
         decision text CHECK (decision IN ('approved', 'refused')), decided_by text, decided_at timestamptz,
         decided_because text, used_at timestamptz,
         PRIMARY KEY (works_id, request_id),
         FOREIGN KEY (works_id, person_id) REFERENCES people (works_id, person_id),
         FOREIGN KEY (works_id, asked_by) REFERENCES people (works_id, person_id),
         FOREIGN KEY (works_id, decided_by) REFERENCES people (works_id, person_id),
         CHECK (num_nonnulls(decision, decided_by, decided_at, decided_because) IN (0, 4)),
         CHECK (used_at IS NULL OR decision IS NOT DISTINCT FROM 'approved'),
         CONSTRAINT two_different_people CHECK (decided_by <> asked_by),
         CONSTRAINT nobody_renews_themselves CHECK (asked_by <> person_id AND decided_by <> person_id))`,
      `CREATE INDEX renewal_requests_by_person ON renewal_requests (works_id, person_id)`,
      `GRANT SELECT, INSERT, UPDATE (decision, decided_by, decided_at, decided_because, used_at)
         ON renewal_requests TO ${SERVER}`,
      `CREATE TRIGGER renewal_requests_decided_once
         BEFORE UPDATE OF decision, decided_by, decided_at, decided_because ON renewal_requests FOR EACH ROW
         WHEN (OLD.decision IS NOT NULL) EXECUTE FUNCTION refuse_second_decision()`,
      `CREATE FUNCTION refuse_second_use() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS $$
         BEGIN RAISE EXCEPTION 'a request is used once' USING ERRCODE = 'integrity_constraint_violation'; END $$`,
      `CREATE TRIGGER renewal_requests_used_once BEFORE UPDATE OF used_at ON renewal_requests FOR EACH ROW
         WHEN (OLD.used_at IS NOT NULL) EXECUTE FUNCTION refuse_second_use()`,
    ]),
}
