import { calculationById } from '@haspwright/engine'
import { describe, expect, it, onTestFinished } from 'vitest'
import { demoJson, harbourDesign, harbourOrder } from '../app.testing.ts'
import type * as Built from './handing-planner.ts'
import { directPlanner } from './planner.ts'

/** A thread runs built code alone, so its owner is taken from there too. */
async function builtPlanner() {
  const built = new URL('../../dist/planning/handing-planner.js', import.meta.url)
  const { HandingPlanner } = (await import(built.href)) as typeof Built
  const planner = new HandingPlanner()
  onTestFinished(() => planner.close())
  return planner
}

const nickel = { metal: 'nickel', areaDm2: 1, currentDensityAPerDm2: 2, efficiencyPercent: 95, thicknessUm: 6 }

describe('work in threads of its own', () => {
  it('comes to the same as work done here, and tells its progress', async () => {
    const planner = await builtPlanner()
    const input = { order: harbourOrder, designs: [harbourDesign], works: demoJson('works.json') }
    const [told, toldHere]: [number[], number[]] = [[], []]
    const there = await planner.plan(input, { progress: (share) => told.push(share) })
    const here = await directPlanner.plan(input, { progress: (share) => toldHere.push(share) })
    expect(there).toEqual(here)
    expect(told).toEqual(toldHere)
  })

  it('goes on after a fault, which reaches whoever waits', async () => {
    const planner = await builtPlanner()
    const [fault, result] = await Promise.allSettled([
      planner.calculate({ id: 'none', input: {} }),
      planner.calculate({ id: 'finish.deposit', input: nickel }),
    ])
    expect(fault).toMatchObject({ status: 'rejected', reason: { message: 'no calculation none' } })
    expect(result).toMatchObject({ status: 'fulfilled', value: { ok: true } })
  })

  it('answers a short calculation while a long one is still at work', async () => {
    const planner = await builtPlanner()
    const chain = calculationById('body.chain-simulation')?.examples[0].input
    const simulate = (draws: number) => planner.calculate({ id: 'body.chain-simulation', input: { ...chain, draws } })
    await Promise.all([simulate(1000), planner.calculate({ id: 'finish.deposit', input: nickel })]) // both threads stand
    const ended: string[] = []
    const long = simulate(1_000_000)
    const short = planner.calculate({ id: 'finish.deposit', input: nickel })
    await Promise.all([long.then(() => ended.push('long')), short.then(() => ended.push('short'))])
    expect(await long).toMatchObject({ ok: true })
    expect(ended).toEqual(['short', 'long'])
  })

  it('is refused once the planner is closed', async () => {
    const planner = await builtPlanner()
    await planner.calculate({ id: 'finish.deposit', input: nickel })
    await planner.close()
    await expect(planner.calculate({ id: 'finish.deposit', input: nickel })).rejects.toThrow('closed')
  })
})
