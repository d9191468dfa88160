import type { CodeAllocation, Design, Order, Waiting } from '@haspwright/engine'
import type { Giving, Outcome, Register } from '@haspwright/register'
import { deliveredKey, locksToRekey, type Planner } from './planner.ts'

/**
 * Reserves the codes of an order in the register and allocates them: the same again for an order that has them already. New codes
 * for an order whose sheets were opened want `by.newCodes` to say why.
 */
export async function codesFor(
  { register, planner }: { register: Register; planner: Planner },
  { order, designs, by }: { order: Order; designs: readonly Design[]; by: Giving },
  waiting: Waiting = {},
): Promise<Outcome<CodeAllocation>> {
  const worksKeyHex = await register.worksKey()
  const delivered: Record<string, string> = {}
  for (const lock of locksToRekey(order)) {
    const blindCode = await register.codes.blindCodeOf(lock)
    if (blindCode !== undefined) delivered[deliveredKey(lock)] = blindCode
  }
  const rekeyed = await withEarlierMarks(order, designs, register)
  return register.codes.reserve(
    order,
    designs,
    (start) => planner.allocate({ order: rekeyed, designs, worksKeyHex, ...start, delivered }, waiting),
    by,
  )
}

/** Replacement keys for locks from before the tool: what an earlier list called them becomes the blind code they have now. */
async function withEarlierMarks(order: Order, designs: readonly Design[], { codes }: Register): Promise<Order> {
  const lines = await Promise.all(
    order.lines.map(async (line) => {
      const design = designs.find(({ id }) => id === line.design)
      if (line.keying.kind !== 'replacement' || line.keying.blindCode === undefined || design === undefined) return line
      const blindCode = await codes.earlierBlindCode(design, line.keying.blindCode)
      return blindCode === undefined ? line : { ...line, keying: { ...line.keying, blindCode } }
    }),
  )
  return { ...order, lines }
}
