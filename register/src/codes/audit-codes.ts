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
 * Proves that what each code space says it has given, passed over, withdrawn and taken over is, number by number, what the rows
 * of its codes say, and that nothing was given out of a range that is reserved. That no number is held twice is a key of the
 * table.
 */
export async function auditCodes(tables: Kysely<Tables>, worksId: string): Promise<CodeGap[]> {
  const { rows } = await sql<CodeGap>`
    WITH kept AS (
      SELECT space,
        coalesce(range_agg(one) FILTER (WHERE place IS NOT NULL OR draw_key IS NOT NULL), '{}') AS given,
        coalesce(range_agg(one) FILTER (WHERE order_id IS NOT NULL AND place IS NULL), '{}') AS passed_over,
        coalesce(range_agg(one) FILTER (WHERE state = 'withdrawn'), '{}') AS withdrawn,
        coalesce(range_agg(one) FILTER (WHERE state IN ('withdrawn', 'taken-over')), '{}') AS gone,
        coalesce(range_agg(one) FILTER (WHERE state IN ('given', 'passed-over')), '{}') AS plain
      FROM codes, LATERAL (SELECT numrange(number, number + 1) AS one) AS each
      WHERE works_id = ${worksId} GROUP BY space
    ), acts AS (
      SELECT space,
        coalesce(range_agg(numbers) FILTER (WHERE kind = 'withdrawn'), '{}') AS withdrawn,
        coalesce(range_agg(numbers) FILTER (WHERE kind IN ('withdrawn', 'taken over')), '{}') AS gone,
        coalesce(range_agg(numbers) FILTER (WHERE kind = 'reserved' AND released_by IS NULL), '{}') AS reserved
      FROM code_acts WHERE works_id = ${worksId} GROUP BY space
    ), said AS (
      SELECT s.space, s.given, s.passed_over, coalesce(a.withdrawn, '{}') AS withdrawn, coalesce(a.gone, '{}') AS gone,
        coalesce(a.reserved, '{}') AS reserved, coalesce(k.given, '{}') AS given_rows, coalesce(k.passed_over, '{}') AS passed_rows,
        coalesce(k.withdrawn, '{}') AS withdrawn_rows, coalesce(k.gone, '{}') AS gone_rows, coalesce(k.plain, '{}') AS plain
      FROM code_spaces s LEFT JOIN kept k USING (space) LEFT JOIN acts a USING (space) WHERE s.works_id = ${worksId}
    )
    SELECT space, lower(wrong) AS number, message FROM said, LATERAL (VALUES
      (given - given_rows, 'Numbers from here on were given, and the rows that say to whom are missing.'),
      (given_rows - given, 'Numbers from here on have been given, and their code space counts them as free: they could be given twice.'),
      (passed_over - passed_rows, 'Numbers from here on were passed over, and their rows are missing.'),
      (passed_rows - passed_over, 'Numbers from here on were passed over, and their code space counts them as free.'),
      (withdrawn - withdrawn_rows, 'Numbers from here on were withdrawn, and their rows do not say so.'),
      (gone - gone_rows - (withdrawn - withdrawn_rows), 'Numbers from here on were taken over, and their rows do not say so.'),
      (gone_rows - gone, 'Numbers from here on are out of use, and no act says why.'),
      (given * passed_over, 'Numbers from here on were both given and passed over.'),
      (reserved * plain, 'Numbers from here on were given to an order, though their range is reserved.')
    ) AS found(wrong, message) WHERE NOT isempty(wrong) ORDER BY 1, 2, 3`.execute(tables)
  return rows
}
