import type { Kysely } from 'kysely'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

const WORKS = 'works_id text NOT NULL REFERENCES works'

/** What happens to a lot on its way from bar to box; people as far as the floor needs them. ISA-95 words where they exist. */
export const shopFloor = {
  up: (db: Kysely<unknown>): Promise<void> =>
    statements(db, [
      `CREATE TABLE people (
         ${WORKS}, person_id text NOT NULL, name text NOT NULL, active boolean NOT NULL DEFAULT true,
         PRIMARY KEY (works_id, person_id))`,
      `CREATE TABLE lots (
         ${WORKS}, lot_id text NOT NULL, order_id text NOT NULL, line_id text NOT NULL, design_id text NOT NULL,
         design_version integer, locks integer NOT NULL CHECK (locks >= 0), opened_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, lot_id),
         FOREIGN KEY (works_id, design_id, design_version) REFERENCES designs (works_id, id, version))`,
      `CREATE INDEX lots_by_order ON lots (works_id, order_id)`,
      `CREATE TABLE loads (
         ${WORKS}, load_id text NOT NULL, kind text NOT NULL CHECK (kind IN ('furnace', 'rack', 'barrel')),
         equipment text NOT NULL, started_at timestamptz, ended_at timestamptz,
         PRIMARY KEY (works_id, load_id))`,
      `CREATE TABLE genealogy (
         ${WORKS},
         parent_kind text NOT NULL CHECK (parent_kind IN ('bar-heat', 'cut-lot', 'furnace-load', 'rack')),
         parent_id text NOT NULL,
         child_kind text NOT NULL CHECK (child_kind IN ('cut-lot', 'furnace-load', 'rack', 'lock')),
         child_id text NOT NULL,
         PRIMARY KEY (works_id, parent_kind, parent_id, child_kind, child_id))`,
      `CREATE INDEX genealogy_by_child ON genealogy (works_id, child_kind, child_id)`,
      `CREATE TABLE operations (
         ${WORKS}, operation_id text NOT NULL, lot_id text NOT NULL, step text NOT NULL, load_id text, person_id text,
         equipment text, started_at timestamptz NOT NULL, ended_at timestamptz,
         PRIMARY KEY (works_id, operation_id),
         FOREIGN KEY (works_id, lot_id) REFERENCES lots,
         FOREIGN KEY (works_id, load_id) REFERENCES loads,
         FOREIGN KEY (works_id, person_id) REFERENCES people)`,
      `CREATE INDEX operations_by_lot ON operations (works_id, lot_id, started_at)`,
      `CREATE TABLE measurements (
         ${WORKS}, measurement_id text NOT NULL, lot_id text NOT NULL, characteristic text NOT NULL,
         value double precision NOT NULL, unit text NOT NULL, gauge text, person_id text, measured_at timestamptz NOT NULL,
         PRIMARY KEY (works_id, measurement_id),
         FOREIGN KEY (works_id, lot_id) REFERENCES lots,
         FOREIGN KEY (works_id, person_id) REFERENCES people)`,
      `CREATE INDEX measurements_by_lot ON measurements (works_id, lot_id, characteristic, measured_at)`,
      `CREATE TABLE findings (
         ${WORKS}, order_id text NOT NULL, order_version integer NOT NULL, finding_id text NOT NULL,
         predicted double precision, measured double precision, limit_value double precision, unit text NOT NULL,
         verdict text NOT NULL CHECK (verdict IN ('holds', 'falls-short', 'not-known')),
         PRIMARY KEY (works_id, order_id, order_version, finding_id),
         FOREIGN KEY (works_id, order_id, order_version) REFERENCES orders (works_id, id, version))`,
      `CREATE TABLE releases (
         ${WORKS}, release_id text NOT NULL, lot_id text NOT NULL, person_id text NOT NULL, event_number bigint NOT NULL,
         released_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, release_id),
         UNIQUE (works_id, lot_id),
         FOREIGN KEY (works_id, lot_id) REFERENCES lots,
         FOREIGN KEY (works_id, person_id) REFERENCES people,
         FOREIGN KEY (works_id, event_number) REFERENCES events)`,
      `GRANT SELECT, INSERT ON people, lots, loads, genealogy, operations, measurements, findings, releases TO ${SERVER}`,
      `GRANT UPDATE (name, active) ON people TO ${SERVER}`,
      `GRANT UPDATE (started_at, ended_at) ON loads TO ${SERVER}`,
      `GRANT UPDATE (ended_at) ON operations TO ${SERVER}`,
    ]),
}
