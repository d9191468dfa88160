import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { CHROMIUM_KINDS, COATING_ROWS, SERVICE_CONDITIONS } from '../materials/service-conditions.ts'
import { serviceCondition } from './service-condition.ts'

describe('finish.service-condition', () => {
  it.each(CHROMIUM_KINDS)('with %s chromium a harder service never asks less nickel of the same kind', (chromium) => {
    for (const nickel of ['bright', 'double-layer'] as const) {
      // Condition 5 is condition 4 for longer; its 35 µm stand against the 30 µm of the same chromium there.
      const um = SERVICE_CONDITIONS.flatMap((condition) =>
        COATING_ROWS.filter((row) => row.condition === condition && row.chromium === chromium && row.nickel === nickel),
      ).map(({ nickelUm }) => nickelUm)
      expect([...um].sort((a, b) => a - b)).toEqual(um)
    }
  })

  it('marks every remembered row, and no row that was read', () => {
    for (const { condition, chromium, seen } of COATING_ROWS) {
      const result = answer(serviceCondition, { condition, chromium })
      expect(result.ok && result.notices.some((text) => text.includes('from memory'))).toBe(!seen)
    }
  })

  it('allows thinner chromium in service condition 1 only (ASTM B456-03 extract)', () => {
    const least = (condition: string) => {
      const result = answer(serviceCondition, { condition, chromium: 'regular' })
      return result.ok && result.output.leastChromiumUm
    }
    expect([least('1'), least('2'), least('4')]).toEqual([0.13, 0.25, 0.25])
  })

  it('refuses a pairing without a row and lists what there is', () => {
    const result = answer(serviceCondition, { condition: '5', chromium: 'regular' })
    expect(result.ok ? '' : result.issues[0]?.allowed).toBe('microcracked, microporous')
  })
})
