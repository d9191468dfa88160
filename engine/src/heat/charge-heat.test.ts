import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { chargeHeat } from './charge-heat.ts'

const charge = { partsKg: 30, basketKg: 10, hardeningC: 850, bath: 'oil', bathKg: 500, bathC: 60, bathLimitC: 90 }

describe('heat.charge-heat', () => {
  it('the heat that leaves the steel is the heat that the bath takes up', () => {
    const result = answer(chargeHeat, { ...charge, steelJPerKgK: 700, bathJPerKgK: 1900 })
    if (!result.ok) throw new Error('refused')
    const { bathEndC, bathRiseK } = result.output
    expect(40 * 700 * (850 - bathEndC)).toBeCloseTo(500 * 1900 * bathRiseK, 4)
  })
  it('the least bath it names stays just within the limit, a little less does not', () => {
    const result = answer(chargeHeat, { ...charge, bathLimitC: 70 })
    if (!result.ok) throw new Error('refused')
    expect(result.output.withinLimit).toBe(false)
    const least = result.output.leastBathKg ?? 0
    const ends = [least * 1.001, least * 0.999].map((bathKg) => {
      const again = answer(chargeHeat, { ...charge, bathLimitC: 70, bathKg })
      return again.ok && again.output.withinLimit
    })
    expect(ends).toEqual([true, false])
  })
  it('names every contradiction at once', () => {
    const result = answer(chargeHeat, { ...charge, startC: 900, bathLimitC: 60 })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual(['hardeningC', 'bathLimitC'])
  })
})
