/**
 * Tables without `works_id`: accounts of people, who may work for several works that share a database. A distributed
 * PostgreSQL keeps a whole copy of them beside every works. What somebody may do is not in them: roles belong to a works.
 */
export const REFERENCE_TABLES = [
  'accounts',
  'account_credentials',
  'account_sessions',
  'account_challenges',
  'account_second_factors',
  'account_passkeys',
] as const

/** Tables without `works_id` that no server reads while it serves: which changes of the tables were made, and who makes one now. */
export const MIGRATION_TABLES = ['kysely_migration', 'kysely_migration_lock'] as const
