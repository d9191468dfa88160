import { type Kysely, sql } from 'kysely'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

/** The works; designs, orders and the works' own settings in versions; events in a chain that only grows. */
export const documentsAndEvents = {
  async up(db: Kysely<unknown>): Promise<void> {
    await statements(db, [
      `DO $$ BEGIN
         IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = '${SERVER}') THEN CREATE ROLE ${SERVER}; END IF;
       EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL; -- another database of this server was faster
       END $$`,
      // Whoever migrates must be able to step down to the server's rights.
      `DO $$ BEGIN
         IF NOT pg_has_role(current_user, '${SERVER}', 'MEMBER')
         THEN EXECUTE format('GRANT ${SERVER} TO %I', current_user); END IF;
       END $$`,
      `REVOKE CREATE ON SCHEMA public FROM PUBLIC`,
      `GRANT USAGE ON SCHEMA public TO ${SERVER}`,
      `CREATE TABLE works (works_id text PRIMARY KEY, opened_at timestamptz NOT NULL DEFAULT now())`,
      `GRANT SELECT, INSERT ON works TO ${SERVER}`,
      ...['designs', 'orders', 'works_documents'].flatMap(documentTable),
      `CREATE TABLE events (
         works_id text NOT NULL REFERENCES works,
         number bigint NOT NULL,
         at timestamptz NOT NULL,
         kind text NOT NULL,
         subject text NOT NULL,
         actor text NOT NULL,
         body text NOT NULL CHECK (json_typeof(body::json) = 'object'),
         previous_hash bytea NOT NULL,
         hash bytea NOT NULL,
         PRIMARY KEY (works_id, number))`,
      `CREATE INDEX events_by_subject ON events (works_id, subject, kind)`,
      `CREATE INDEX events_by_kind ON events (works_id, kind, number)`,
      `CREATE TABLE event_heads (
         works_id text PRIMARY KEY REFERENCES works,
         number bigint NOT NULL,
         hash bytea NOT NULL)`,
      ...EVENT_FUNCTIONS,
      `GRANT SELECT ON events, event_heads TO ${SERVER}`,
    ])
    await sql`REVOKE ALL ON FUNCTION append_event FROM PUBLIC`.execute(db)
    await sql.raw(`GRANT EXECUTE ON FUNCTION append_event TO ${SERVER}`).execute(db)
  },
}

function documentTable(name: string): string[] {
  return [
    `CREATE TABLE ${name} (
       works_id text NOT NULL REFERENCES works,
       id text NOT NULL,
       version integer NOT NULL CHECK (version >= 1),
       content json NOT NULL,
       saved_at timestamptz NOT NULL,
       PRIMARY KEY (works_id, id, version))`,
    `GRANT SELECT, INSERT ON ${name} TO ${SERVER}`, // no UPDATE: a version stays what it was
  ]
}

/**
 * The only way to an event. The database itself forms the hash, so that no server can write a row that is not in the chain;
 * the row of the head makes appends of one works wait for each other. Each field is hashed behind its length in bytes, so that
 * no two rows give the same bytes.
 */
const EVENT_FUNCTIONS = [
  `CREATE FUNCTION event_hash(previous bytea, works text, number bigint, at timestamptz, kind text, subject text, actor text, body text)
   RETURNS bytea LANGUAGE sql STABLE SET search_path = pg_catalog AS $$
     SELECT sha256(previous || convert_to(string_agg(octet_length(convert_to(field, 'UTF8')) || ':' || field, '' ORDER BY place), 'UTF8'))
     FROM unnest(ARRAY[works, number::text, to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), kind, subject, actor, body])
       WITH ORDINALITY AS fields(field, place)
   $$`,
  `CREATE FUNCTION append_event(works text, kind text, subject text, actor text, body text, OUT number bigint, OUT hash bytea)
   LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
   DECLARE previous bytea; moment timestamptz;
   BEGIN
     INSERT INTO public.event_heads AS h VALUES (works, 0, sha256('')) ON CONFLICT DO NOTHING;
     SELECT h.number + 1, h.hash INTO number, previous FROM public.event_heads h WHERE h.works_id = works FOR UPDATE;
     moment := clock_timestamp();
     hash := public.event_hash(previous, works, number, moment, kind, subject, actor, body);
     INSERT INTO public.events VALUES (works, number, moment, kind, subject, actor, body, previous, hash);
     UPDATE public.event_heads h SET number = append_event.number, hash = append_event.hash WHERE h.works_id = works;
   END $$`,
]
