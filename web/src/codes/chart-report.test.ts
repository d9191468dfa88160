import { answerAny, calculationById } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { reportOf } from './chart-report.ts'

describe('what leaves the chart worker', () => {
  it('is the report of a chart and no cut of it: no list of numbers is in it', async () => {
    const chart = calculationById('codes.chart')
    if (chart === undefined) throw new Error('There are no charts.')
    const answer = await answerAny(chart, {
      discs: 6,
      values: 6,
      maxGatesPerDisc: 2,
      minDifferingDiscs: 1,
      keys: ['M', 'a', 'b', 'c'],
      locks: ['a', 'b', 'c'].map((key) => ({ name: `lock ${key}`, openedBy: [key, 'M'] })),
    })
    if (!answer.ok) throw new Error('The chart was refused.')
    const report = reportOf(answer.output, answer.notices)
    expect(report).toMatchObject({ keys: 4, locks: 3, verified: true, locksPerLostKey: { max: 3 } })
    const lists = Object.values(report).filter((value) => Array.isArray(value) && value.length > 0)
    expect(lists.flat().filter((item) => typeof item !== 'string')).toEqual([])
    expect(JSON.stringify(report)).not.toMatch(/"code"|"gates"|\[\d/)
  })
})
