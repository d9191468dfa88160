import { afterEach, describe, expect, it, vi } from 'vitest'

/** The same with some ways to wait taken from the machine. */
async function makeWayWithout(...missing: readonly string[]) {
  for (const name of missing) vi.stubGlobal(name, undefined)
  vi.resetModules()
  return (await import('./make-way.ts')).makeWay
}

describe('making way', () => {
  afterEach(() => vi.unstubAllGlobals())

  it.each([
    ['by the next turn of the loop', []],
    ['by a message, as in a browser', ['setImmediate']],
    ['by a timer', ['setImmediate', 'MessageChannel']],
  ])('lets what waits have its turn: %s', async (_title, missing) => {
    const { setTimeout: later } = globalThis
    const makeWay = await makeWayWithout(...missing)
    let turn = false
    later(() => {
      turn = true
    })
    for (let steps = 0; !turn && steps < 1_000_000; steps++) await makeWay()
    expect(turn).toBe(true)
  })

  it('goes on where a machine has no turns at all', async () => {
    const makeWay = await makeWayWithout('setImmediate', 'MessageChannel', 'setTimeout')
    await expect(makeWay()).resolves.toBeUndefined()
  })
})
