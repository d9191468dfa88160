import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import scholl from '../../../checks/cutting-stock/scholl.json' with { type: 'json' }
import { answer } from '../calculation.ts'
import { chargePlan } from './charge-plan.ts'

const furnace = { chargeMassKg: 10, basketVolumeL: 20, fillPercent: 50, recipes: [{ recipe: 'a', minutes: 60 }] }
const lot = (name: string, parts: number, more: object = {}) => ({
  lot: name,
  recipe: 'a',
  parts,
  partMassKg: 1,
  partVolumeL: 1,
  ...more,
})
const plan = (input: object) => {
  const result = answer(chargePlan, { ...furnace, ...input })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output
}

describe('heat.charge-plan', () => {
  it.each(scholl.instances.filter(({ n }) => n === 50).map((instance) => [instance.name, instance] as const))(
    '%s as lots of one recipe: the published optimum where proven, else bounds around it (Scholl, Klein, Jürgens)',
    (_, { items, capacity, optimum }) => {
      const output = plan({
        chargeMassKg: capacity,
        basketVolumeL: 100_000,
        fillPercent: 100,
        lots: items.map((size, i) => lot(`L${i}`, size, { partVolumeL: 0.001 })),
      })
      expect(output.lowerBound).toBeLessThanOrEqual(optimum)
      expect(output.loads).toBeGreaterThanOrEqual(optimum)
      if (output.proven) expect(output.loads).toBe(optimum)
    },
    20_000,
  )

  it('never mixes recipes: two half charges of unlike recipes are two charges, of like recipes one', () => {
    const recipes = [
      { recipe: 'a', minutes: 60 },
      { recipe: 'b', minutes: 100 },
    ]
    const apart = plan({ recipes, lots: [lot('A', 5), lot('B', 5, { recipe: 'b' })] })
    expect([apart.loads, apart.totalMinutes, apart.shared]).toEqual([2, 160, []])
    expect(plan({ lots: [lot('A', 5), lot('B', 5)] }).loads).toBe(1)
  })

  it('a lot that must be alone shares with nobody', () => {
    const output = plan({ lots: [lot('A', 5, { alone: true }), lot('B', 5)] })
    expect([output.loads, output.shared]).toEqual([2, []])
  })

  it('room counts as mass does', () => {
    expect(plan({ lots: [lot('A', 5, { partVolumeL: 1.1 }), lot('B', 5)] }).loads).toBe(2)
  })

  it('puts every part of every lot into a charge, none over its limits (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.integer({ min: 1, max: 40 }),
            fc.integer({ min: 1, max: 30 }),
            fc.integer({ min: 1, max: 30 }),
            fc.boolean(),
          ),
          {
            minLength: 1,
            maxLength: 9,
          },
        ),
        (given) => {
          const lots = given.map(([parts, mass, volume, second], i) =>
            lot(`L${i}`, parts, { partMassKg: mass / 10, partVolumeL: volume / 10, recipe: second ? 'b' : 'a' }),
          )
          const output = plan({
            recipes: [
              { recipe: 'a', minutes: 1 },
              { recipe: 'b', minutes: 1 },
            ],
            lots,
          })
          for (const { lot: name, parts, recipe } of lots) {
            const placed = output.charges.flatMap((charge) =>
              charge.lots
                .filter((held) => held.lot === name)
                .map((held) => {
                  expect(charge.recipe).toBe(recipe)
                  return held.parts * charge.times
                }),
            )
            expect(placed.reduce((a, b) => a + b, 0)).toBe(parts)
          }
          for (const { massPercent, volumePercent } of output.charges) {
            expect(massPercent).toBeLessThanOrEqual(100 + 1e-6)
            expect(volumePercent).toBeLessThanOrEqual(100 + 1e-6)
          }
          expect(output.lowerBound).toBeLessThanOrEqual(output.loads)
        },
      ),
      { seed: 3, numRuns: 200 },
    )
  })

  it('names every wrong lot at once', () => {
    const result = answer(chargePlan, {
      ...furnace,
      lots: [lot('A', 1, { recipe: 'z' }), lot('A', 1, { partMassKg: 11, partVolumeL: 11 })],
    })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'lots[1].lot',
      'lots[0].recipe',
      'lots[1].partMassKg',
      'lots[1].partVolumeL',
    ])
  })
})
