import { type Kysely, sql } from 'kysely'
import type { Tables } from '../postgres/tables.ts'

/** A place where the record of issued numbers does not add up. */
export interface CodeGap {
  readonly space: string
  /** The first number it concerns. */
  readonly number: bigint
  readonly message: string
}

/**
 * Proves that the ranges of every code space lie end to end from 0 to its first free number: no number is held twice, and
 * none was passed over without record. And that each number that was drawn is tied to its lock.
 */
export async function auditCodes(tables: Kysely<Tables>, worksId: string): Promise<CodeGap[]> {
  const { rows } = await sql<CodeGap>`
    WITH ends AS (
      SELECT space, first_number AS starts, first_number + number_count AS ends FROM issue_ranges WHERE works_id = ${worksId}
      UNION ALL SELECT space, next_number, next_number FROM code_spaces WHERE works_id = ${worksId}
    ), steps AS (
      SELECT space, starts, coalesce(max(ends) OVER (PARTITION BY space ORDER BY starts, ends ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING), 0) AS before
      FROM ends
    )
    SELECT space, least(starts, before) AS number,
      CASE WHEN starts < before THEN 'Numbers from here on are held twice.' ELSE 'Numbers from here on were passed over without record.' END AS message
    FROM steps WHERE starts <> before
    UNION ALL
    SELECT r.space, r.first_number, 'Numbers drawn from here on are not all tied to a lock.'
    FROM issue_ranges r
    WHERE r.works_id = ${worksId} AND r.draw_key IS NOT NULL AND r.number_count <> (
      SELECT count(*) FROM codes c WHERE c.works_id = r.works_id AND c.space = r.space
        AND c.number >= r.first_number AND c.number < r.first_number + r.number_count)
    ORDER BY 1, 2`.execute(tables)
  return rows
}
