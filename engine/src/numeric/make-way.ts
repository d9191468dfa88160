/** What every machine that runs this has, and no language library declares without a machine. */
const { setTimeout } = globalThis as unknown as { setTimeout?: (then: () => void) => unknown }

/**
 * Lets whatever waits have its turn between two steps of long work, so that a cancellation can be seen. Costs about a
 * millisecond: for steps of tens of milliseconds and more.
 */
export function makeWay(): Promise<void> {
  return new Promise((resolve) => {
    if (setTimeout === undefined) resolve()
    else setTimeout(resolve)
  })
}
