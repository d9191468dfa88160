import type { Kysely } from 'kysely'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

/** An issue number: whole, and longer than any machine word where a lock has many discs. */
const NUMBER = 'numeric(40, 0) NOT NULL'

/** Who holds which issue numbers, and what was delivered under which blind code. No cuts, and no key that opens a seal. */
export const codes = {
  up: (db: Kysely<unknown>): Promise<void> =>
    statements(db, [
      `CREATE TABLE works_keys (
         works_id text NOT NULL REFERENCES works,
         generation integer NOT NULL CHECK (generation >= 1),
         key_check text NOT NULL,
         sealed_key bytea, -- an earlier key, sealed with the one that followed; none for the key in use
         since timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, generation),
         UNIQUE (works_id, key_check))`,
      `CREATE TABLE code_spaces (
         works_id text NOT NULL,
         space text NOT NULL,
         definition json NOT NULL,
         key_generation integer NOT NULL,
         next_number ${NUMBER} CHECK (next_number >= 0),
         PRIMARY KEY (works_id, space),
         FOREIGN KEY (works_id, key_generation) REFERENCES works_keys)`,
      `CREATE TABLE reservations (
         works_id text NOT NULL REFERENCES works,
         order_id text NOT NULL,
         revision integer NOT NULL CHECK (revision >= 1),
         fingerprint text NOT NULL,
         reserved_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, order_id, revision))`,
      `CREATE TABLE draws (
         works_id text NOT NULL,
         draw_key text NOT NULL,
         fingerprint text NOT NULL,
         space text NOT NULL,
         first_number ${NUMBER},
         number_count ${NUMBER},
         drawn_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, draw_key),
         FOREIGN KEY (works_id, space) REFERENCES code_spaces)`,
      `CREATE TABLE issue_ranges (
         works_id text NOT NULL,
         space text NOT NULL,
         first_number ${NUMBER} CHECK (first_number >= 0),
         number_count ${NUMBER} CHECK (number_count >= 1),
         key_generation integer NOT NULL,
         order_id text,
         revision integer,
         design_id text,
         draw_key text,
         PRIMARY KEY (works_id, space, first_number),
         FOREIGN KEY (works_id, space) REFERENCES code_spaces,
         FOREIGN KEY (works_id, key_generation) REFERENCES works_keys,
         FOREIGN KEY (works_id, order_id, revision) REFERENCES reservations,
         FOREIGN KEY (works_id, draw_key) REFERENCES draws,
         CHECK ((order_id IS NULL) <> (draw_key IS NULL)))`,
      `CREATE INDEX issue_ranges_by_order ON issue_ranges (works_id, order_id, revision)`,
      `CREATE TABLE locks (
         works_id text NOT NULL REFERENCES works,
         lock_id text NOT NULL,
         order_id text NOT NULL,
         revision integer NOT NULL,
         name text NOT NULL,
         lot_id text NOT NULL,
         design_id text NOT NULL,
         blind_code text NOT NULL,
         PRIMARY KEY (works_id, lock_id))`,
      `CREATE INDEX locks_by_blind_code ON locks (works_id, blind_code)`,
      `CREATE INDEX locks_by_order ON locks (works_id, order_id, revision, name)`,
      `CREATE TABLE keys (
         works_id text NOT NULL,
         order_id text NOT NULL,
         revision integer NOT NULL,
         name text NOT NULL,
         blind_code text NOT NULL,
         copies integer NOT NULL,
         PRIMARY KEY (works_id, order_id, revision, name),
         FOREIGN KEY (works_id, order_id, revision) REFERENCES reservations)`,
      `CREATE TABLE codes (
         works_id text NOT NULL,
         space text NOT NULL,
         number ${NUMBER},
         blind_code text NOT NULL,
         lock_id text NOT NULL,
         PRIMARY KEY (works_id, space, number),
         UNIQUE (works_id, space, blind_code),
         FOREIGN KEY (works_id, space) REFERENCES code_spaces,
         FOREIGN KEY (works_id, lock_id) REFERENCES locks)`,
      `CREATE TABLE sealed_documents (
         works_id text NOT NULL,
         kind text NOT NULL CHECK (kind IN ('chart', 'imported-codes')),
         id text NOT NULL,
         version integer NOT NULL CHECK (version >= 1),
         key_generation integer NOT NULL,
         sealed bytea NOT NULL,
         saved_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, kind, id, version),
         FOREIGN KEY (works_id, key_generation) REFERENCES works_keys)`,
      `GRANT SELECT, INSERT ON reservations, draws, issue_ranges, locks, keys, codes, sealed_documents TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (next_number) ON code_spaces TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (sealed_key) ON works_keys TO ${SERVER}`,
      `GRANT UPDATE (sealed, key_generation) ON sealed_documents TO ${SERVER}`, // sealed anew when the works key changes
    ]),
}
