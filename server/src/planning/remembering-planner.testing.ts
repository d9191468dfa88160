import type { PlanResult } from '@haspwright/engine'
import { directPlanner, type Planner } from './planner.ts'

const made = new Map<string, Promise<PlanResult>>()

/** The planner of this process, for tests that are not about planning: what it planned once it does not plan again. */
export const rememberingPlanner: Planner = {
  ...directPlanner,
  plan(input, waiting) {
    const asked = JSON.stringify(input)
    const plan = made.get(asked) ?? directPlanner.plan(input, waiting)
    made.set(asked, plan)
    return plan
  },
}
