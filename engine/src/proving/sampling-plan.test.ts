import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { samplingPlan } from './sampling-plan.ts'

const plan = (input: object) => {
  const result = answer(samplingPlan, { level: 'II', severity: 'normal', ...input })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('proving.sampling-plan', () => {
  // MIL-STD-105E table II-A, normal: lot, AQL, sample, acceptance number.
  it.each([
    [1000, 0.65, 80, 1],
    [1000, 1, 80, 2],
    [1000, 2.5, 80, 5],
    [1000, 6.5, 80, 10],
    [2000, 1, 125, 3],
    [400, 1, 50, 1],
    [250, 2.5, 32, 2],
    [100, 1, 13, 0],
    [30_000, 1, 315, 7],
    [100_000, 0.65, 500, 7],
  ])('lot %d at AQL %d: sample %d, accept %d (table II-A)', (lotSize, aqlPercent, sampleSize, accept) => {
    expect(plan({ lotSize, aqlPercent }).output).toMatchObject({ sampleSize, accept, reject: accept + 1 })
  })

  it('inspects every item where the plan asks for as many as there are, and says so', () => {
    const small = plan({ lotSize: 10, aqlPercent: 0.65 })
    expect(small.output).toMatchObject({ sampleSize: 10, accept: 0, reject: 1, inspectAll: true })
    expect(small.notices.join()).toMatch(/asks for 20 and the lot has 10/)
    expect(plan({ lotSize: 20, aqlPercent: 0.65 }).output.inspectAll).toBe(true)
    expect(plan({ lotSize: 21, aqlPercent: 0.65 }).output.inspectAll).toBe(false)
  })

  it('says that reduced plans are those of 105E, with the gap named where there is one', () => {
    const { output, notices } = plan({ lotSize: 1000, aqlPercent: 1, severity: 'reduced' })
    expect([output.sampleSize, output.accept, output.reject]).toEqual([32, 1, 3])
    expect(notices.join()).toMatch(/more than 1 and fewer than 3/)
  })

  it('tightened inspection reaches letter S in the corner, 3150 with one accepted', () => {
    expect(plan({ lotSize: 600_000, level: 'III', aqlPercent: 0.025, severity: 'tightened' }).output).toMatchObject({
      codeLetter: 'R',
      planLetter: 'S',
      sampleSize: 3150,
      accept: 1,
    })
  })

  it('lists the 26 AQLs when the one asked for is none of them, and begins at lots of two', () => {
    const odd = answer(samplingPlan, { lotSize: 500, level: 'II', aqlPercent: 2, severity: 'normal' })
    expect(odd.ok ? [] : odd.issues[0]?.allowed?.split(', ')).toHaveLength(26)
    expect(answer(samplingPlan, { lotSize: 2, level: 'II', aqlPercent: 1, severity: 'normal' }).ok).toBe(true)
    expect(answer(samplingPlan, { lotSize: 1, level: 'II', aqlPercent: 1, severity: 'normal' }).ok).toBe(false)
  })
})
