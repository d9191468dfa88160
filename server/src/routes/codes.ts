import { count, type Design, openCodeSpace, Refusal, read, text } from '@haspwright/engine'
import type { CodeName, GivenOut, Outcome, Register } from '@haspwright/register'
import type { Context } from 'hono'
import { z } from 'zod'
import { may } from '../access/caller.ts'
import { type AppEnv, Routes } from '../access/routes.ts'
import { jsonBody } from '../json-body.ts'
import { badInput, notFound, refusal } from '../replies.ts'
import type { CodeSpaceSummary } from '../wire.ts'
import { becauseFields, becauseOf } from './because.ts'
import { PageAsked } from './orders.ts'

const MAX_ASKED_BYTES = 16 * 1024
/** Some hundred thousand lines. */
const MAX_LIST_BYTES = 16 * 1024 * 1024

const issueNumber = (title: string) =>
  z
    .string()
    .regex(/^(0|[1-9][0-9]{0,39})$/)
    .meta({ title, description: 'A whole number as text' })

/** A code to withdraw: by what is stamped, or by its issue number. */
export const Withdrawal = z
  .strictObject({
    blindCode: text('Blind code', { max: 40 }).optional(),
    number: issueNumber('Issue number').optional(),
    ...becauseFields,
  })
  .refine(({ blindCode, number }) => (blindCode === undefined) !== (number === undefined), {
    message: 'Say which code: its blind code or its issue number, one of the two.',
    path: ['blindCode'],
  })
  .meta({ title: 'Withdrawal of a code' })

export const RangeToReserve = z
  .strictObject({ from: issueNumber('First number'), to: issueNumber('Last number'), ...becauseFields })
  .meta({ title: 'Range to reserve' })

export const ReleaseOfRange = z.strictObject(becauseFields).meta({ title: 'Release of a reserved range' })

/** Codes from before the tool, as CSV. */
export const EarlierCodesList = z
  .strictObject({
    text: text('List as CSV', { max: MAX_LIST_BYTES }),
    lowestCut: z.union([z.literal(0), z.literal(1)]).optional(),
    setAside: z.array(count('Line', { min: 1 })).optional(),
    ...becauseFields,
  })
  .meta({ title: 'List of earlier codes' })

/**
 * What has become of codes: counts and issue numbers leave here, no code and no key. What is done to them is done with a reason,
 * which is written down.
 */
export function codeRoutes({ register }: { register: Register }) {
  /** Reads a request about a design's codes and answers with what came of it. */
  async function act<S extends z.ZodType>(
    c: Context<AppEnv>,
    { schema, maxBytes = MAX_ASKED_BYTES }: { schema: S; maxBytes?: number },
    does: (design: Design, asked: z.output<S>) => Promise<Outcome<object>>,
  ) {
    const body = await jsonBody(c, maxBytes)
    if (!body.ok) return refusal(c, body.status, body.issues)
    const asked = read(schema, body.value)
    if (!asked.ok) return badInput(c, asked.issues)
    const id = c.req.param('design') ?? ''
    const design = await register.designs.latest(id)
    if (design === undefined) return notFound(c, 'There is no design of this number.', id)
    const outcome = await does(design.content, asked.value)
    if (!outcome.ok) return badInput(c, outcome.issues)
    return c.json({
      done: outcome.value,
      space: summaryOf(design.content, await register.codes.givenOut(design.content)),
    })
  }

  return new Routes()
    .get('/codes', may('codes.count'), async (c) => {
      const asked = read(PageAsked, c.req.query())
      if (!asked.ok) return badInput(c, asked.issues)
      const { versions, issues, next } = await register.designs.page(asked.value)
      const designs = versions.map(({ content }) => content).reverse()
      const given = await register.codes.allGivenOut(designs)
      const spaces = designs.flatMap((design, i) => (given[i] === undefined ? [] : [summaryOf(design, given[i])]))
      return c.json({ spaces, issues, next })
    })
    .post('/codes/:design/withdrawals', may('codes.act'), (c) =>
      act(c, { schema: Withdrawal }, (design, asked) =>
        register.codes.withdraw(design, nameOf(asked), becauseOf(c, asked)),
      ),
    )
    .post('/codes/:design/reservations', may('codes.act'), (c) =>
      act(c, { schema: RangeToReserve }, (design, asked) =>
        register.codes.reserveRange(design, { from: asked.from, to: asked.to }, becauseOf(c, asked)),
      ),
    )
    .post('/codes/:design/reservations/:id/release', may('codes.act'), (c) =>
      act(c, { schema: ReleaseOfRange }, (design, asked) =>
        register.codes.release(design, c.req.param('id'), becauseOf(c, asked)),
      ),
    )
    .post('/codes/:design/imports', may('codes.act'), (c) =>
      act(
        c,
        { schema: EarlierCodesList, maxBytes: MAX_LIST_BYTES },
        (design, { text: list, lowestCut, setAside, ...said }) =>
          register.codes.takeOver(
            design,
            {
              text: list,
              ...(lowestCut === undefined ? {} : { lowestCut }),
              ...(setAside === undefined ? {} : { setAside }),
            },
            becauseOf(c, said),
          ),
      ),
    )
}

function nameOf({ blindCode, number = '' }: z.output<typeof Withdrawal>): CodeName {
  return blindCode === undefined ? { number } : { blindCode: blindCode.replace(/[\s-]/g, '').toUpperCase() }
}

function summaryOf(design: Design, { numbers, ...rest }: GivenOut): CodeSpaceSummary {
  const { discs, values } = design.mechanism
  const usable = usableCodes(design)
  return {
    design: design.id,
    title: design.title,
    discs,
    values,
    total: `${BigInt(values) ** BigInt(discs)}`,
    ...(usable === undefined ? {} : { usable }),
    givenOut: numbers,
    ...rest,
  }
}

/** Counted once for each version of a design, which stays the same object as long as the register holds it ready. */
const counted = new WeakMap<Design, { readonly usable: string | undefined }>()

/** Codes that keep the rules; `undefined` where they are out of reach to count. */
function usableCodes(design: Design): string | undefined {
  let known = counted.get(design)
  if (known === undefined) {
    const { discs, values, rules } = design.mechanism
    const opened = openCodeSpace({ discs, values, rules })
    known = { usable: opened instanceof Refusal ? undefined : `${opened.usable}` }
    counted.set(design, known)
  }
  return known.usable
}
