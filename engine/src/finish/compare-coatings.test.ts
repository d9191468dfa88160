import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { compareCoatings } from './compare-coatings.ts'

const zinc = (saltSprayHours: number) => {
  const result = answer(compareCoatings, { condition: '3', chromium: 'regular', saltSprayHours })
  return result.ok ? result.output.alternatives.find(({ kind }) => kind === 'zinc') : undefined
}

describe('finish.compare-coatings', () => {
  it.each([
    [24, 5, 24, 'holds'],
    [96, 5, 96, 'holds'],
    [97, 8, 120, 'holds'],
    [168, 12, 168, 'holds'],
    [169, 12, 168, 'falls-short'],
  ])('zinc for %d h: %d µm, red rust at %d h, %s (ISO 4042, table B.1)', (asked, um, hours, verdict) =>
    expect(zinc(asked)).toMatchObject({ thicknessUm: um, saltSprayHours: hours, verdict }),
  )

  it('says what is not known, and never gives hours without a row', () => {
    const result = answer(compareCoatings, { condition: '5', chromium: 'regular', saltSprayHours: 240 })
    if (!result.ok) throw new Error('refused')
    for (const { kind, verdict, saltSprayHours } of result.output.alternatives)
      if (kind !== 'zinc') expect([verdict, saltSprayHours]).toEqual(['not-known', null])
  })
})
