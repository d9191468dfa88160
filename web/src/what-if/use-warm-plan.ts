import type { WorksPlan } from '@haspwright/engine'
import { useEffect } from 'react'
import { warmUp } from './changed-plan.ts'

/** Planning a design for the first time in a page takes half a second: it is done while the page has nothing else to do. */
const AT_LATEST_MS = 1500

/** Warms the plan once figures are about to be tried, in a moment when nobody types. */
export function useWarmPlan(plan: WorksPlan, wanted: boolean): void {
  useEffect(() => {
    if (!wanted) return
    // Not every browser has moments of idleness to give; there the next free turn must do.
    if (typeof requestIdleCallback !== 'function') {
      const timer = setTimeout(() => warmUp(plan), AT_LATEST_MS)
      return () => clearTimeout(timer)
    }
    const moment = requestIdleCallback(() => warmUp(plan), { timeout: AT_LATEST_MS })
    return () => cancelIdleCallback(moment)
  }, [plan, wanted])
}
