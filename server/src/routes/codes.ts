import { type Design, openCodeSpace, Refusal } from '@haspwright/engine'
import type { Register } from '@haspwright/register'
import { Hono } from 'hono'
import type { CodeSpaceSummary } from '../wire.ts'

/** How far codes have been given out. Counts alone leave here: no code, no issue number of a lock, no key. */
export function codeRoutes({ register }: { register: Register }) {
  return new Hono().get('/codes', async (c) => {
    const spaces: CodeSpaceSummary[] = []
    for (const id of await register.designs.ids()) {
      const design = await register.designs.latest(id)
      if (design !== undefined) spaces.push(await summaryOf(design.content, register))
    }
    return c.json({ spaces })
  })
}

async function summaryOf(design: Design, { codes }: Register): Promise<CodeSpaceSummary> {
  const { discs, values, rules } = design.mechanism
  const opened = openCodeSpace({ discs, values, rules })
  const { space, numbers, orders } = await codes.givenOut(design)
  return {
    design: design.id,
    title: design.title,
    space,
    discs,
    values,
    total: `${BigInt(values) ** BigInt(discs)}`,
    ...(opened instanceof Refusal ? {} : { usable: `${opened.usable}` }),
    givenOut: numbers,
    orders,
  }
}
