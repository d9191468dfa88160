import type { Design } from '@haspwright/engine'
import { it } from 'vitest'
import { allocateOneByOne, demoDesign, demoOrder, orderOf } from './data-folder.testing.ts'
import type { Register } from './register.ts'

/** Who stores and plans in the tests. */
export const actor = 'R. Thorne'

/** Opens the register under test; each call in one test opens the same one again, as another process would. */
export type Open = (environment?: NodeJS.ProcessEnv) => Promise<Register>
/** The way to an empty register, once for each test. */
export type Start = () => Promise<Open> | Open

export const testing = (start: Start) => (name: string, body: (open: Open) => Promise<void>) =>
  it(name, async () => body(await start()))

/** A register with a design, and orders over it that take the next numbers. */
export async function bench(open: Open, environment?: NodeJS.ProcessEnv) {
  const design = await demoDesign()
  const template = await demoOrder()
  const order = (id: string, quantity: number, of = design.id) =>
    orderOf(template, id, [{ id: 'A', design: of, quantity }])
  const register = await open(environment)
  const allocated = async (asked: ReturnType<typeof order>, designs: readonly Design[] = [design]) => {
    const outcome = await register.codes.reserve(asked, designs, allocateOneByOne(asked), { actor })
    if (!outcome.ok) throw new Error('refused')
    return outcome.value
  }
  return {
    design,
    order,
    register,
    codes: register.codes,
    /** Blind codes of the locks of an order. */
    blindCodes: async (...asked: Parameters<typeof allocated>) =>
      (await allocated(...asked)).locks.map(({ blindCode }) => blindCode),
    /** Issue numbers of an order, as runs. */
    numbers: async (...asked: Parameters<typeof allocated>) =>
      (await allocated(...asked)).given.map(({ numbers }) => numbers).join(),
  }
}

/** Blind codes as {@link allocateOneByOne} makes them. */
export const range = (design: string, from: number, to: number) =>
  Array.from({ length: to - from }, (_, i) => `${design}/${from + i}`)
