import type { CodeAllocation, Design, Order, Waiting } from '@haspwright/engine'
import type { Outcome, Register } from '@haspwright/register'
import { deliveredKey, locksToRekey, type Planner } from './planner.ts'

/** Reserves the codes of an order in the register and allocates them: the same again for an order that has them already. */
export async function codesFor(
  { register, planner }: { register: Register; planner: Planner },
  { order, designs }: { order: Order; designs: readonly Design[] },
  waiting: Waiting = {},
): Promise<Outcome<CodeAllocation>> {
  const worksKeyHex = await register.worksKey()
  const delivered: Record<string, string> = {}
  for (const lock of locksToRekey(order)) {
    const blindCode = await register.codes.blindCodeOf(lock)
    if (blindCode !== undefined) delivered[deliveredKey(lock)] = blindCode
  }
  return register.codes.reserve(order, designs, (start) =>
    planner.allocate({ order, designs, worksKeyHex, start, delivered }, waiting),
  )
}
