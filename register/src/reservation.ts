import { isRunText } from '@haspwright/engine'
import { z } from 'zod'

export const wholeNumber = z.string().regex(/^(0|[1-9][0-9]{0,39})$/)
export const runs = z.string().refine(isRunText)

/** Numbers that belong to one order for good, line by line, and the blind codes they became. No cuts. */
const Current = z.strictObject({
  schema: z.literal('haspwright/reservation/2'),
  order: z.string(),
  /** Of the lines these numbers were reserved for. */
  fingerprint: z.string(),
  lines: z.array(
    z.strictObject({
      line: z.string(),
      design: z.string(),
      space: z.string(),
      /** Of its keys, in their order. */
      numbers: runs,
      passedOver: runs,
      /** Blind codes of its locks, in their order, a blank between. */
      blindCodes: z.string(),
    }),
  ),
})
export type Reservation = z.output<typeof Current>

/** As it was written before numbers were kept line by line: which key had which cannot be told any more. */
const Earlier = z
  .strictObject({
    schema: z.literal('haspwright/reservation/1'),
    order: z.string(),
    fingerprint: z.string(),
    ranges: z.array(z.strictObject({ design: z.string(), space: z.string(), start: wholeNumber, count: wholeNumber })),
    locks: z.array(z.strictObject({ name: z.string(), lot: z.string(), blindCode: z.string() })),
  })
  .transform(
    ({ order, fingerprint, ranges, locks }): Reservation => ({
      schema: 'haspwright/reservation/2',
      order,
      // Matches no order: its codes cannot be made again, only be taken from the sheets that were printed.
      fingerprint: `earlier ${fingerprint}`,
      lines: [
        ...ranges.flatMap(({ design, space, start, count }) =>
          count === '0'
            ? []
            : [
                {
                  line: '',
                  design,
                  space,
                  numbers: `${start}-${BigInt(start) + BigInt(count) - 1n}`,
                  passedOver: '',
                  blindCodes: '',
                },
              ],
        ),
        ...[...new Set(locks.map(lineOf))].map((line) => ({
          line,
          design: '',
          space: '',
          numbers: '',
          passedOver: '',
          blindCodes: locks
            .filter((lock) => lineOf(lock) === line)
            .map(({ blindCode }) => blindCode)
            .join(' '),
        })),
      ],
    }),
  )

/** `A-017` → `A`. */
export const lineOf = ({ name }: { readonly name: string }) => name.slice(0, name.lastIndexOf('-'))

export const ReservationFile: z.ZodType<Reservation> = z.union([Current, Earlier])
