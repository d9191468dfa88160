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
         given nummultirange NOT NULL DEFAULT '{}', -- both stay true to the rows of codes: the audit proves it
         passed_over nummultirange NOT NULL DEFAULT '{}',
         PRIMARY KEY (works_id, space),
         FOREIGN KEY (works_id, key_generation) REFERENCES works_keys)`,
      `CREATE TABLE reservations (
         works_id text NOT NULL REFERENCES works,
         order_id text NOT NULL,
         revision integer NOT NULL CHECK (revision >= 1),
         fingerprint text NOT NULL,
         reserved_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, order_id, revision))`,
      `CREATE TABLE reservation_lines (
         works_id text NOT NULL,
         order_id text NOT NULL,
         revision integer NOT NULL,
         line_id text NOT NULL,
         position integer NOT NULL,
         design_id text NOT NULL,
         space text NOT NULL,
         mastered json, -- of each lock that several keys open the places of its keys; none for a line whose locks were never built
         PRIMARY KEY (works_id, order_id, revision, line_id),
         FOREIGN KEY (works_id, order_id, revision) REFERENCES reservations,
         FOREIGN KEY (works_id, space) REFERENCES code_spaces)`,
      `CREATE INDEX reservation_lines_by_space ON reservation_lines (works_id, space, order_id)`,
      `CREATE TABLE draws (
         works_id text NOT NULL,
         draw_key text NOT NULL,
         fingerprint text NOT NULL,
         space text NOT NULL,
         drawn_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, draw_key),
         FOREIGN KEY (works_id, space) REFERENCES code_spaces)`,
      `CREATE TABLE code_acts (
         works_id text NOT NULL,
         act_id text NOT NULL,
         space text NOT NULL,
         kind text NOT NULL CHECK (kind IN ('withdrawn', 'reserved', 'taken over')),
         numbers nummultirange NOT NULL CHECK (NOT isempty(numbers)),
         event_number bigint NOT NULL, -- says who, when and why
         released_by bigint CHECK (kind = 'reserved' OR released_by IS NULL),
         PRIMARY KEY (works_id, act_id),
         FOREIGN KEY (works_id, space) REFERENCES code_spaces,
         FOREIGN KEY (works_id, event_number) REFERENCES events,
         FOREIGN KEY (works_id, released_by) REFERENCES events)`,
      `CREATE INDEX code_acts_by_space ON code_acts (works_id, space, event_number)`,
      `CREATE TABLE locks (
         works_id text NOT NULL REFERENCES works,
         lock_id text NOT NULL,
         order_id text NOT NULL,
         revision integer NOT NULL,
         name text NOT NULL,
         line_id text, -- none for a lock that drew its code by itself
         place integer, -- among the locks of its line, from 1
         lot_id text NOT NULL,
         design_id text NOT NULL,
         blind_code text NOT NULL,
         PRIMARY KEY (works_id, lock_id))`,
      `CREATE INDEX locks_by_blind_code ON locks (works_id, blind_code)`,
      `CREATE INDEX locks_by_order ON locks (works_id, order_id, revision, line_id, place)`,
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
         number ${NUMBER} CHECK (number >= 0),
         state text NOT NULL CHECK (state IN ('passed-over', 'given', 'taken-over', 'withdrawn')),
         order_id text,
         revision integer,
         line_id text,
         place integer, -- of its key among those of the line, from 0; none for a number that was passed over
         draw_key text,
         lock_id text,
         act_id text, -- that withdrew it or took it over
         PRIMARY KEY (works_id, space, number),
         UNIQUE (works_id, lock_id),
         FOREIGN KEY (works_id, space) REFERENCES code_spaces,
         FOREIGN KEY (works_id, order_id, revision, line_id) REFERENCES reservation_lines,
         FOREIGN KEY (works_id, draw_key) REFERENCES draws,
         FOREIGN KEY (works_id, lock_id) REFERENCES locks,
         FOREIGN KEY (works_id, act_id) REFERENCES code_acts,
         CHECK ((draw_key IS NULL) = (lock_id IS NULL)),
         CHECK ((order_id IS NULL) = (line_id IS NULL)),
         CHECK (order_id IS NULL OR draw_key IS NULL),
         CHECK (num_nonnulls(order_id, draw_key, act_id) > 0),
         CHECK ((act_id IS NOT NULL) = (state IN ('taken-over', 'withdrawn'))))`,
      `CREATE INDEX codes_by_line ON codes (works_id, order_id, revision, line_id, place) WHERE order_id IS NOT NULL`,
      `CREATE INDEX codes_by_draw ON codes (works_id, draw_key, number) WHERE draw_key IS NOT NULL`,
      ...ONLY_ONWARD,
      `CREATE TABLE earlier_codes (
         works_id text NOT NULL,
         space text NOT NULL,
         list_id text NOT NULL,
         line integer NOT NULL CHECK (line >= 1),
         key_generation integer NOT NULL,
         sealed bytea NOT NULL, -- number, cuts and what the list called the lock, for this row alone
         PRIMARY KEY (works_id, space, list_id, line),
         FOREIGN KEY (works_id, list_id) REFERENCES code_acts,
         FOREIGN KEY (works_id, key_generation) REFERENCES works_keys)`,
      `CREATE TABLE sealed_documents (
         works_id text NOT NULL,
         kind text NOT NULL CHECK (kind = 'chart'),
         id text NOT NULL,
         version integer NOT NULL CHECK (version >= 1),
         key_generation integer NOT NULL,
         sealed bytea NOT NULL,
         saved_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, kind, id, version),
         FOREIGN KEY (works_id, key_generation) REFERENCES works_keys)`,
      `GRANT SELECT, INSERT ON reservations, reservation_lines, draws, code_acts, locks, keys, codes, earlier_codes, sealed_documents TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (given, passed_over) ON code_spaces TO ${SERVER}`,
      `GRANT UPDATE (state, act_id) ON codes TO ${SERVER}`,
      `GRANT UPDATE (mastered) ON reservation_lines TO ${SERVER}`,
      `GRANT UPDATE (released_by) ON code_acts TO ${SERVER}`,
      `GRANT UPDATE (sealed, key_generation) ON earlier_codes TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE (sealed_key) ON works_keys TO ${SERVER}`,
      `GRANT UPDATE (sealed, key_generation) ON sealed_documents TO ${SERVER}`, // sealed anew when the works key changes
    ]),
}

/** A code that is out stays out: whatever the server asks, no number becomes free or takes an earlier state again. */
const ONLY_ONWARD = [
  `CREATE FUNCTION code_state_rank(state text) RETURNS integer LANGUAGE sql IMMUTABLE SET search_path = pg_catalog AS
     $$ SELECT array_position(ARRAY['passed-over', 'given', 'taken-over', 'withdrawn'], state) $$`,
  `CREATE FUNCTION refuse_backward() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS $$
     BEGIN RAISE EXCEPTION 'an issue number never goes back to an earlier state' USING ERRCODE = 'integrity_constraint_violation'; END $$`,
  `CREATE TRIGGER codes_go_onward BEFORE UPDATE ON codes FOR EACH ROW
     WHEN (code_state_rank(NEW.state) <= code_state_rank(OLD.state)) EXECUTE FUNCTION refuse_backward()`,
]
