import type { Kysely } from 'kysely'
import { SERVER } from '../postgres/roles.ts'
import { statements } from './statements.ts'

const WORKS = 'works_id text NOT NULL REFERENCES works'

/** What was computed and can be computed again, where every server finds it; the long work that is under way. */
export const plansAndJobs = {
  up: (db: Kysely<unknown>): Promise<void> =>
    statements(db, [
      // The cast of json to text and the coding as UTF-8 give the same bytes for ever, which the database knows of the first alone.
      `CREATE FUNCTION document_digest(content json) RETURNS bytea LANGUAGE sql IMMUTABLE STRICT PARALLEL SAFE
         SET search_path = pg_catalog AS $$ SELECT sha256(convert_to(content::text, 'UTF8')) $$`,
      ...['designs', 'orders', 'works_documents'].map(
        (table) => `ALTER TABLE ${table} ADD COLUMN digest bytea GENERATED ALWAYS AS (document_digest(content)) STORED`,
      ),
      `CREATE TABLE plans (
         ${WORKS}, plan_key text NOT NULL, content json NOT NULL, made_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, plan_key))`,
      `CREATE INDEX plans_by_age ON plans (works_id, made_at)`,
      `CREATE TABLE order_plans (
         ${WORKS}, order_id text NOT NULL,
         plan_key text, sentence json, -- of the last plan that was made
         refused_key text, issues json, -- why the order could not be planned from the inputs of that key
         PRIMARY KEY (works_id, order_id),
         CHECK ((plan_key IS NULL) = (sentence IS NULL)),
         CHECK ((refused_key IS NULL) = (issues IS NULL)))`,
      `CREATE TABLE made_sets (
         ${WORKS}, kind text NOT NULL, made_key text NOT NULL, made_at timestamptz NOT NULL DEFAULT now(),
         PRIMARY KEY (works_id, kind, made_key))`,
      `CREATE INDEX made_sets_by_age ON made_sets (works_id, kind, made_at)`,
      `CREATE TABLE made_files (
         ${WORKS}, kind text NOT NULL, made_key text NOT NULL, place integer NOT NULL,
         path text NOT NULL, title text NOT NULL, media_type text NOT NULL, size integer NOT NULL,
         secret boolean NOT NULL, bytes bytea, -- of a secret one the name alone
         PRIMARY KEY (works_id, kind, made_key, place),
         UNIQUE (works_id, kind, made_key, path),
         FOREIGN KEY (works_id, kind, made_key) REFERENCES made_sets ON DELETE CASCADE,
         CHECK (secret = (bytes IS NULL)))`,
      `CREATE TABLE jobs (
         ${WORKS}, job_id text NOT NULL,
         kind text NOT NULL, subject text NOT NULL,
         work_key text NOT NULL, -- the same for the same work
         asker_id text NOT NULL, asked_by text NOT NULL, asked_at timestamptz NOT NULL DEFAULT now(),
         key_generation integer NOT NULL,
         request bytea NOT NULL, -- sealed, as is the answer: either may hold cuts
         state text NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'working', 'done', 'cancelled', 'failed')),
         attempt integer NOT NULL DEFAULT 1,
         share real NOT NULL DEFAULT 0, doing text NOT NULL DEFAULT '',
         cancel_asked boolean NOT NULL DEFAULT false,
         seen_at timestamptz, ended_at timestamptz,
         answer bytea,
         PRIMARY KEY (works_id, job_id),
         CHECK ((state IN ('done', 'cancelled', 'failed')) = (ended_at IS NOT NULL)),
         CHECK ((state = 'done') = (answer IS NOT NULL)))`,
      // Whoever asks for what is under way already waits for the same job.
      `CREATE UNIQUE INDEX jobs_under_way ON jobs (works_id, kind, work_key) WHERE state IN ('waiting', 'working')`,
      `CREATE INDEX jobs_by_subject ON jobs (works_id, kind, subject, asked_at)`,
      `CREATE INDEX jobs_by_end ON jobs (works_id, ended_at)`,
      `GRANT SELECT, INSERT, DELETE ON plans, made_sets, made_files TO ${SERVER}`,
      `GRANT SELECT, INSERT, UPDATE, DELETE ON order_plans, jobs TO ${SERVER}`,
      `GRANT UPDATE (made_at) ON plans, made_sets TO ${SERVER}`,
    ]),
}
