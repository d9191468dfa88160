import pg from 'pg'

const { builtins } = pg.types
const INTEGER = /^-?[0-9]+$/

const PARSERS: ReadonlyMap<number, (text: string) => unknown> = new Map<number, (text: string) => unknown>([
  [builtins.INT8, BigInt],
  // Issue numbers are whole and may have 40 digits; anything else stays text, so that no digit is lost.
  [builtins.NUMERIC, (text) => (INTEGER.test(text) ? BigInt(text) : text)],
  // A date of the calendar is no moment: the driver would give local midnight.
  [builtins.DATE, (text) => text],
])

/** How values of the database become values here: the one place that says so. */
export const valueTypes: pg.CustomTypesConfig = {
  getTypeParser: (id, format) =>
    (format === 'binary' ? undefined : PARSERS.get(id)) ?? pg.types.getTypeParser(id, format),
}
