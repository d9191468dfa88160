import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { furnaceRecord } from './furnace-record.ts'
import { stretchesWithin } from './soak-window.ts'
import { parseTemperatureLog } from './temperature-log.ts'

const read = (text: string) => {
  const reading = parseTemperatureLog(text)
  if (!reading.ok) throw new Error(JSON.stringify(reading.issues))
  return reading.log
}
const faults = (text: string) => {
  const reading = parseTemperatureLog(text)
  return reading.ok ? [] : reading.issues.map(({ path, code }) => [path, code])
}

describe('a temperature log', () => {
  it('reads semicolons, decimal commas, clock times past midnight, and an empty cell as a gap', () => {
    const log = read('Zeit;Dach;Last\r\n23:50;20,5;20\r\n00:05;410,25;\r\n00:20:30;850,0;845\r\n')
    expect(log.couples).toEqual(['Dach', 'Last'])
    expect(log.readings).toEqual([
      { minutes: 0, temperaturesC: [20.5, 20] },
      { minutes: 15, temperaturesC: [410.25, null] },
      { minutes: 30.5, temperaturesC: [850, 845] },
    ])
    expect(log.notices.join(' ')).toContain('gave nothing once')
  })

  it('reads the same log however it is written', () => {
    const written = [
      '0;20;21\n90;850;849',
      '\uFEFF0,20,21\n90,850,849\n\n',
      'time\ta\tb\n0\t20\t21\n90\t850\t849',
      'Time [s];a;b\n0;20;21\n5400;850;849',
      'Time (h),a,b\n0,20,21\n1.5,850,849',
      '2024-03-01T23:00:00Z;20 °C;21\n2024-03-02T00:30:00Z;850;849',
      '2024-03-01 23:00;20;21\n# door opened\n2024-03-02 00:30;850;849',
      'min;a [°F];b [°F]\n0;68;69,8\n90;1562;1560,2',
      '"min","a [K]","b [K]"\n"0","293.15","294.15"\n"90","1123.15","1122.15"',
    ]
    for (const text of written) {
      const { readings } = read(text)
      expect(readings.map(({ minutes }) => minutes)).toEqual([0, 90])
      for (const [i, expected] of [
        [20, 21],
        [850, 849],
      ].entries())
        for (const [j, celsius] of expected.entries()) expect(readings[i]?.temperaturesC[j]).toBeCloseTo(celsius, 9)
    }
  })

  it('names every bad line at once, counted from 1 with its column', () => {
    expect(faults('min;a;b\n0;20;20\n10;hot;20\n5;20;20\n20;20\nnoon;20;20\n30;20;9999\n40;20;20')).toEqual([
      ['lines[3].columns[2]', 'bad-format'],
      ['lines[4].columns[1]', 'contradiction'],
      ['lines[5]', 'bad-format'],
      ['lines[6].columns[1]', 'bad-format'],
      ['lines[7].columns[3]', 'out-of-range'],
    ])
  })

  it('refuses times of two kinds, a single reading, nothing at all, and a column only', () => {
    expect(faults('0;20\n00:10;30')).toEqual([['lines[2].columns[1]', 'bad-format']])
    expect(faults('min;a\n0;20')).toEqual([['lines[2]', 'too-few']])
    expect(faults('\n\n')).toEqual([['lines[1]', 'missing']])
    expect(faults('20\n30\n40')).toEqual([['lines[1]', 'bad-format']])
    expect(faults(Array.from({ length: 20_001 }, (_, i) => `${i};20`).join('\n'))).toEqual([['lines', 'too-many']])
  })
})

const recipe = {
  setC: 850,
  minusK: 10,
  plusK: 10,
  soakMinutes: 30,
  maxSpreadK: 12,
  maxOvershootK: 10,
  maxGapMinutes: 20,
}
const judge = (readings: readonly (readonly [number, ...(number | null)[]])[], changed: object = {}) => {
  const result = answer(furnaceRecord, {
    couples: readings[0]?.slice(1).map((_, i) => `T${i + 1}`) ?? [],
    readings: readings.map(([minutes, ...temperaturesC]) => ({ minutes, temperaturesC })),
    recipe: { ...recipe, ...changed },
  })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output
}
const failing = (output: ReturnType<typeof judge>) =>
  output.checks.filter(({ verdict }) => verdict !== 'holds').map(({ what, verdict }) => [what, verdict])

describe('heat.furnace-record', () => {
  it('counts from where a straight line crosses the window: 20 → 840 of 860 °C in 10 min is there at 9.762 min (by hand)', () => {
    const output = judge([
      [0, 20],
      [10, 860],
      [30, 860],
      [45, 850],
    ])
    expect(output.fromMinute).toBeCloseTo((10 * 820) / 840, 9)
    expect(output.toMinute).toBe(45)
    expect(output.verdict).toBe('accepted')
  })

  it('a dip out of the window breaks the soak: the longest stretch counts, the sum is told', () => {
    const output = judge([
      [0, 850],
      [20, 850],
      [30, 830],
      [40, 850],
      [55, 850],
      [65, 850],
    ])
    expect([output.atTemperatureMinutes, output.totalAtTemperatureMinutes]).toEqual([30, 55])
    expect(output.verdict).toBe('accepted')
    expect(
      judge(
        [
          [0, 850],
          [20, 850],
          [30, 830],
          [40, 850],
          [60, 850],
        ],
        { soakMinutes: 31 },
      ).verdict,
    ).toBe('rejected')
  })

  it('does not count across a gap or where a couple is silent', () => {
    const gap = judge([
      [0, 850],
      [15, 850],
      [40, 850],
      [55, 850],
    ])
    expect(gap.atTemperatureMinutes).toBe(15)
    expect(failing(gap).map(([what]) => what)).toEqual(['Time at temperature', 'Longest gap between readings'])
    const silent = judge([
      [0, 850, 850],
      [15, 850, null],
      [30, 850, 850],
      [40, 850, 850],
    ])
    expect([silent.atTemperatureMinutes, silent.missingReadings]).toEqual([10, 1])
  })

  it('rejects spread, overshoot and too fast heating, each for its own reason, at the limit still holding', () => {
    const held = [
      [0, 850, 850],
      [20, 856, 844],
      [40, 860, 850],
    ] as const
    expect(failing(judge(held))).toEqual([])
    expect(failing(judge(held, { maxSpreadK: 11.9 }))).toEqual([['Spread between couples', 'falls short']])
    expect(failing(judge(held, { maxOvershootK: 9.9 }))).toEqual([['Overshoot', 'falls short']])
    expect(
      failing(
        judge(
          [
            [0, 20],
            [10, 850],
            [30, 850],
            [50, 850],
          ],
          { maxHeatRateKPerMin: 82.9 },
        ),
      ),
    ).toEqual([['Heating rate', 'falls short']])
  })

  it('measures the quench on the load couple; without its fall the delay is not known, and so is the verdict', () => {
    const quench = { couple: 'T2', belowC: 400, maxSeconds: 20 }
    const soaked = [
      [0, 850, 850],
      [20, 850, 850],
      [40, 850, 850],
    ] as const
    // 850 → 100 °C in half a minute: leaves 840 after 0.4 s, below 400 after 18 s.
    const output = judge([...soaked, [40.5, 845, 100]], { quench })
    expect(output.quenchSeconds).toBeCloseTo(17.6, 6)
    expect(output.verdict).toBe('accepted')
    expect(judge([...soaked, [41, 845, 100]], { quench }).verdict).toBe('rejected')
    const open = judge(soaked, { quench })
    expect([open.verdict, failing(open)]).toEqual(['not known', [['From leaving the window to quenched', 'not known']]])
  })

  it('names readings out of order, of the wrong width, and a couple that is not there, all at once', () => {
    const result = answer(furnaceRecord, {
      couples: ['T1'],
      readings: [
        { minutes: 0, temperaturesC: [20] },
        { minutes: 0, temperaturesC: [20] },
        { minutes: 5, temperaturesC: [20, 30] },
      ],
      recipe: { ...recipe, quench: { couple: 'Load', belowC: 400, maxSeconds: 20 } },
    })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'readings[1].minutes',
      'readings[2].temperaturesC',
      'recipe.quench.couple',
    ])
  })

  it('reads a day of readings from six couples in no time', () => {
    const readings = Array.from({ length: 20_000 }, (_, i) => ({
      minutes: i / 10,
      temperaturesC: [850, 851, 852, 853, 854, 855],
    }))
    const started = performance.now()
    expect(stretchesWithin(readings, { lowC: 840, highC: 860, maxGapMinutes: 1 })).toHaveLength(1)
    expect(performance.now() - started).toBeLessThan(2000)
  })
})
