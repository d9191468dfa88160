import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { stressRelief } from './stress-relief.ts'

const relief = (tensileMPa: number, rest: Record<string, unknown> = {}) => {
  const result = answer(stressRelief, { tensileMPa, workedAfterTempering: true, ...rest })
  if (!result.ok) throw new Error('refused')
  return { ...result.output, notices: result.notices.join(' ') }
}

describe('finish.stress-relief', () => {
  it.each([
    [999.9, 'SR-0', 0],
    [1000, 'SR-6', 3],
    [1400, 'SR-6', 3],
    [1401, 'SR-3', 18],
    [1800, 'SR-3', 18],
    [1801, 'SR-1', 24],
  ])('%d MPa: class %s, %d h (ISO 9587 scope; classes from memory)', (tensileMPa, reliefClass, hours) =>
    expect(relief(tensileMPa)).toMatchObject({ reliefClass, hours }),
  )

  it('is not needed where nothing was worked after tempering, however hard', () =>
    expect(relief(1900, { workedAfterTempering: false }).needed).toBe(false))

  it('takes the cooler class from the tempering at which the hotter one comes too near, and says so where both do', () => {
    expect(relief(1500, { temperedAtC: 280 })).toMatchObject({ reliefClass: 'SR-3', belowTemperingC: 50 })
    expect(relief(1500, { temperedAtC: 279 })).toMatchObject({ reliefClass: 'SR-4', belowTemperingC: 59 })
    expect(relief(1500, { temperedAtC: 270 }).notices).not.toMatch(/soften/)
    expect(relief(1500, { temperedAtC: 269 }).notices).toMatch(/soften/)
  })

  it('never takes less time for stronger steel', () => {
    let before = 0
    for (let tensileMPa = 900; tensileMPa <= 2000; tensileMPa += 10) {
      const { hours } = relief(tensileMPa)
      expect(hours).toBeGreaterThanOrEqual(before)
      before = hours
    }
  })
})
