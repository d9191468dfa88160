import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { parseDesignation, writeDesignation } from '../materials/coating-designation.ts'
import { COATING_ROWS, designation } from '../materials/service-conditions.ts'
import { coatingDesignation } from './designation.ts'

describe('finish.designation', () => {
  it('reads back every row of the service conditions (ASTM B456 rows)', () => {
    for (const row of COATING_ROWS) {
      const result = answer(coatingDesignation, { designation: designation(row) })
      expect(result.ok && [result.output.designation, result.output.nickelUm]).toEqual([designation(row), row.nickelUm])
    }
  })

  it('what is written is read back as it was (property, fixed seed)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('Fe', 'Zn', 'Cu', 'Al'),
        fc.integer({ min: 1, max: 99_999 }),
        fc.constantFrom('b', 'd', 'p', 's'),
        fc.option(
          fc.tuple(fc.constantFrom('r', 'mc', 'mp'), fc.option(fc.integer({ min: 1, max: 9999 }), { nil: undefined })),
          {
            nil: undefined,
          },
        ),
        (base, thousandths, nickel, top) => {
          const um = top?.[1] === undefined || top[1] === 300 ? undefined : top[1] / 1000
          const coating = {
            base,
            nickelUm: thousandths / 1000,
            nickel,
            ...(top === undefined ? {} : { chromium: { type: top[0], ...(um === undefined ? {} : { um }) } }),
          }
          expect(parseDesignation(writeDesignation(coating))).toEqual({ ok: true, coating })
        },
      ),
      { seed: 14, numRuns: 1000 },
    )
  })

  it('leaves the chromium thickness out where it is 0.3 µm, and takes more or fewer spaces', () => {
    const shortest = (written: string) => {
      const result = answer(coatingDesignation, { designation: written })
      return result.ok && result.output.designation
    }
    expect(shortest('Fe/Ni30d Cr 0.3 r')).toBe('Fe/Ni30d Cr r')
    expect(shortest(' Fe/Ni30dCrmc ')).toBe('Fe/Ni30d Cr mc')
    expect(shortest('Fe/Ni10b')).toBe('Fe/Ni10b')
    expect(shortest('Fe/Ni30d Cr 0.5 mp')).toBe('Fe/Ni30d Cr 0.5 mp')
  })

  it.each([
    'Fe/Ni30x Cr r',
    'Xx/Ni30d Cr r',
    'Fe/Ni30d Cr q',
    'Fe/Ni0d',
    'Fe/Cu20a Ni30d Cr r',
    'Ni30d',
    'Fe/Ni30d Cr 0 r',
  ])('refuses %s in words', (written) => {
    const result = answer(coatingDesignation, { designation: written })
    expect(result.ok ? '' : result.issues[0]?.code).toBe('bad-format')
  })
})
