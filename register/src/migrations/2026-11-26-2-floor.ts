import type { Kysely } from 'kysely'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

/** What the floor records is written from here on: a measurement may correct another, and nothing ends twice or before it begins. */
export const floor = {
  up: (db: Kysely<unknown>): Promise<void> =>
    statements(db, [
      // A measurement is corrected by one other at the most: the last of such a row is the one that counts.
      `ALTER TABLE measurements
         ADD COLUMN replaces text,
         ADD FOREIGN KEY (works_id, replaces) REFERENCES measurements (works_id, measurement_id),
         ADD UNIQUE (works_id, replaces),
         ADD CHECK (replaces <> measurement_id),
         ADD CHECK (value > '-Infinity' AND value < 'Infinity') -- which no-number is not either`,
      `ALTER TABLE operations ADD CHECK (ended_at >= started_at)`,
      `ALTER TABLE loads ADD CHECK (ended_at >= started_at)`,
      `REVOKE UPDATE (started_at) ON loads FROM ${SERVER}`, // a load is recorded when it starts
      `CREATE INDEX locks_by_lot ON locks (works_id, lot_id)`,
      `CREATE FUNCTION refuse_second_end() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog AS $$
         BEGIN RAISE EXCEPTION 'what has ended does not end again' USING ERRCODE = 'integrity_constraint_violation'; END $$`,
      ...['operations', 'loads'].map(
        (table) =>
          `CREATE TRIGGER ${table}_end_once BEFORE UPDATE ON ${table} FOR EACH ROW
             WHEN (OLD.ended_at IS NOT NULL) EXECUTE FUNCTION refuse_second_end()`,
      ),
    ]),
}
