import { describe, expect, it } from 'vitest'
import harbourFile from '../../../demo/designs/hb50.json' with { type: 'json' }
import railyardFile from '../../../demo/designs/ry40.json' with { type: 'json' }
import worksFile from '../../../demo/works.json' with { type: 'json' }
import { answerLong } from '../calculation.ts'
import { timetable } from '../finish/timetable/timetable.ts'
import { read } from '../reading.ts'
import { Design } from './design.ts'
import { platedAreaDm2 } from './parts.ts'
import { planDesign } from './plan-design.ts'
import { linePlan } from './plating-line.ts'
import { Works } from './resources.ts'
import { nickelSpread } from './thickness-spread.ts'

function checked<T>(result: { ok: true; value: T } | { ok: false; issues: readonly unknown[] }): T {
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.value
}
const designOf = (change: (design: typeof harbourFile) => void = () => {}) => {
  const file = structuredClone(harbourFile)
  change(file)
  return checked(read(Design, file))
}
const worksOf = (change: (works: typeof worksFile) => void = () => {}) => {
  const file = structuredClone(worksFile)
  change(file)
  return checked(read(Works, file))
}
const demand = { locks: 480, largestLot: 160, codesNeeded: 480 }
const findingsOf = (design: Design, works: Works) => {
  const { findings } = planDesign(design, works, demand)
  return (key: string) => findings.find(({ id }) => id === `${design.id}/${key}`)
}
function line(design: Design, works: Works) {
  const plan = linePlan(design, works)
  if (!plan.ok) throw new Error(plan.because)
  return plan
}

describe('the plating line of the works', () => {
  it('has the timetable that the calculation gives for the same input, proven', async () => {
    const { input, answer } = line(designOf(), worksOf())
    const again = await answerLong(timetable, structuredClone(input))
    expect(again.ok && again.output).toEqual(answer)
    expect(answer.proven).toBe(true)
  })

  it('holds a rack in nickel as long as its deposit asks, and no longer than the works allows', () => {
    const { answer, stations } = line(designOf(), worksOf())
    const nickel = answer.soaks[stations.findIndex(({ name }) => name === 'Nickel')]
    // 34 µm at 4 A/dm² and 95 %: 43.6 min, five thirds of 26.2 for 25 µm by the time chart's arithmetic.
    expect(nickel?.soakS).toBeGreaterThanOrEqual(43.63 * 60 - 1)
    expect(nickel?.soakS).toBeLessThanOrEqual(1.1 * 43.64 * 60)
  })

  it('a nickel tank less never makes the cycle shorter, thicker nickel neither', () => {
    const { answer } = line(designOf(), worksOf())
    const fewer = worksOf(({ plating }) => {
      for (const tank of plating.line.tanks) if (tank.purpose === 'nickel') tank.places = 3
    })
    expect(line(designOf(), fewer).answer.cycleS).toBeGreaterThan(1.5 * answer.cycleS)
    const thicker = designOf(({ coating }) => {
      if (coating.layers[0]) coating.layers[0].meanUm = 40
    })
    expect(line(thicker, worksOf()).answer.cycleS).toBeGreaterThanOrEqual(answer.cycleS - 1e-6)
  })

  it('a transfer limit that moves and rinse overrun falls short by what they take, at it holds', () => {
    const limited = (limit: number) =>
      findingsOf(
        designOf(({ coating }) => {
          coating.nickelToChromiumS.limit = limit
        }),
        worksOf(),
      )('chromium/transfer')
    // Two moves of 6 + 3 + 5 s and 15 s of rinse.
    expect(limited(43)).toMatchObject({ verdict: 'holds', predicted: { value: expect.closeTo(43, 6) } })
    expect(limited(40)).toMatchObject({ verdict: 'falls-short', predicted: { value: expect.closeTo(43, 6) } })
    expect(limited(40)?.remedy).toMatch(/rinse/)
  })

  it('without tanks in the works file the transfer is not known, and racks follow the slowest tank', () => {
    const { plating, ...rest } = worksOf()
    const { line: _, ...without } = plating
    const find = findingsOf(designOf(), { ...rest, plating: without })
    expect(find('chromium/transfer')?.unknownBecause).toMatch(/which tanks/)
    expect(find('relief-bake/start')?.verdict).toBe('holds')
  })

  it('acid longer than the steel may have leaves the line untimed, and the acid finding says so', () => {
    const find = findingsOf(
      designOf(({ coating }) => {
        coating.acidSeconds = 31
      }),
      worksOf(),
    )
    expect(find('clean/acid-time')?.verdict).toBe('falls-short')
    expect(find('chromium/transfer')?.verdict).toBe('not-known')
    expect(find('nickel/timetable')?.unknownBecause).toMatch(/31 s in acid, its steel may have 30 s/)
    expect(findingsOf(designOf(), worksOf())('nickel/timetable')).toBeUndefined()
  })

  it('takes the measured ratio where there is one, else the computed, and says which', () => {
    const measured = findingsOf(designOf(), worksOf())('nickel/thinnest')
    expect(measured?.predicted?.value).toBeCloseTo(34 * 0.78, 9)
    expect(measured?.evidence?.notices.join()).toMatch(/measured on earlier loads.*gives 0\.7/)
    const railyard = checked(read(Design, railyardFile))
    const spread = nickelSpread(railyard, worksOf())
    if (!spread.ok) throw new Error(spread.because)
    const computed = findingsOf(railyard, worksOf())('nickel/thinnest')
    expect(computed?.predicted?.value).toBeCloseTo(21 * spread.thinnestToMean, 9)
    expect(computed?.evidence?.notices.join()).toMatch(/computed in a plane cut/)
  })

  it('a bath that polarizes more spreads nickel more evenly; a bath not described leaves the ratio not known', () => {
    const railyard = checked(read(Design, railyardFile))
    const ratio = (polarizationOhmCm2: number) => {
      const spread = nickelSpread(
        railyard,
        worksOf(({ plating }) => {
          for (const bath of plating.baths) bath.polarizationOhmCm2 = polarizationOhmCm2
        }),
      )
      return spread.ok ? spread.thinnestToMean : Number.NaN
    }
    expect(ratio(5)).toBeGreaterThan(ratio(1))
    const undescribed = worksOf(({ plating }) => {
      plating.baths = []
    })
    expect(findingsOf(railyard, undescribed)('nickel/thinnest')?.unknownBecause).toMatch(/nickel bath/)
  })

  it('sums what the baths use up for the order, in proportion to its locks', () => {
    const charge = (locks: number) => {
      const { plan } = planDesign(designOf(), worksOf(), { ...demand, locks })
      const settings = plan.operations.find(({ operation }) => operation === 'nickel')?.settings ?? []
      return settings.find(({ title }) => title === 'Charge for the order')?.value as number
    }
    expect(charge(480)).toBeCloseTo(10 * charge(48), 6)
    // 1.095 g/Ah plated; 34 µm over the plated area of 480 locks, whose figure the solids of the parts prove.
    expect(charge(480)).toBeCloseTo((480 * platedAreaDm2(designOf()) * 34e-6 * 8900 * 10) / (1.095 * 0.95), -1)
  })

  it('refuses a line that begins with a tank, and a window turned round, with the path', () => {
    const file = structuredClone(worksFile)
    const [, cleaner] = file.plating.line.tanks
    if (cleaner) cleaner.maxS = 200
    file.plating.line.tanks.shift()
    const result = read(Works, file)
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'plating.line.tanks',
      'plating.line.tanks[0].maxS',
    ])
  })
})
