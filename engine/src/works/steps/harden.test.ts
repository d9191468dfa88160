import { describe, expect, it } from 'vitest'
import type { z } from 'zod'
import harbourFile from '../../../../demo/designs/hb50.json'
import harbourOrder from '../../../../demo/orders/26-041-harbour.json'
import worksFile from '../../../../demo/works.json'
import { read } from '../../reading.ts'
import type { BarHeat } from '../bar-heat.ts'
import { Design } from '../design.ts'
import { planDesign } from '../plan-design.ts'
import { planOrder } from '../plan-order.ts'
import { Works } from '../resources.ts'

const harbour = checked(Design, harbourFile)
const works = checked(Works, worksFile)

const middling: BarHeat = {
  number: 'M1',
  form: 'round 9',
  kind: 'heat',
  analysis: { C: 0.42, Si: 0.25, Mn: 0.75, Cr: 1.05, Mo: 0.22 },
}
const rich: BarHeat = {
  ...middling,
  number: 'R2',
  analysis: { C: 0.45, Si: 0.35, Mn: 0.88, Cr: 1.18, Mo: 0.29 },
}
const stray: BarHeat = { ...middling, number: 'S3', analysis: { ...middling.analysis, C: 0.3 } }

function hardened(heats: readonly BarHeat[] | undefined, change: { design?: Design; furnace?: object } = {}) {
  const { plan, findings } = planDesign(change.design ?? harbour, {
    ...works,
    heats: heats === undefined ? undefined : [...heats],
    furnace: { ...works.furnace, ...change.furnace },
  })
  const settings = plan.operations.find(({ operation }) => operation === 'harden')?.settings ?? []
  return {
    setting: (title: string) => settings.find((each) => each.title === title)?.value,
    titles: settings.map(({ title }) => title),
    row(key: string) {
      const found = findings.find(({ id }) => id === `HB50/harden/${key}`)
      if (found === undefined) throw new Error(`no finding ${key}`)
      return found
    },
  }
}

describe('hardening from a heat of steel', () => {
  it('without a certificate rests on the middle of the range and says that this is not known', () => {
    const { setting, row } = hardened(undefined)
    expect(setting('Figures rest on')).toBe('the middle of the range')
    expect(row('certificate')).toMatchObject({ verdict: 'not-known' })
    expect(row('certificate').unknownBecause).toMatch(/No certificate of round 9/)
  })

  it('follows its analysis: points, furnace, quench, core', () => {
    const [lean, strong] = [hardened([middling]), hardened([rich])]
    // Andrews: Ms falls 423 °C for each percent of carbon; worked apart 324.2 and 305.4 °C.
    expect(lean.setting('Martensite starts at')).toBeCloseTo(324.2, 1)
    expect(strong.setting('Martensite starts at')).toBeCloseTo(305.4, 1)
    expect(strong.setting('Hardness before tempering to expect at the surface')).toBeGreaterThan(
      Number(lean.setting('Hardness before tempering to expect at the surface')),
    )
    expect(strong.setting('Set the furnace to')).not.toBe(lean.setting('Set the furnace to'))
    expect(lean.row('certificate').verdict).toBe('holds')
    expect(lean.row('hardness-core').evidence?.input).toMatchObject({ composition: middling.analysis })
  })

  it('a heat outside the limits falls short, with the element, its figure and what is allowed', () => {
    const { row } = hardened([stray])
    expect(row('certificate').verdict).toBe('falls-short')
    expect(row('certificate').remedy).toMatch(/Carbon is outside the limits of 42CrMo4\. Stated: 0\.3/)
  })

  it('of several heats each row is that of the heat it goes worst with, and settings name their heat', () => {
    const { row, titles } = hardened([middling, stray])
    expect(row('certificate').remedy).toMatch(/^Heat S3: Carbon/)
    expect(titles).toEqual(expect.arrayContaining(['Set the furnace to, heat M1', 'Set the furnace to, heat S3']))
  })

  it('stainless steel keeps to its card, and what no formula describes is not known', () => {
    const design: Design = {
      ...harbour,
      shackle: { ...harbour.shackle, steel: 'X30Cr13' },
      heat: { ...harbour.heat, temperC: 175, hardness: { ...harbour.heat.hardness, minHrc: 47, maxHrc: 53 } },
    }
    const stainless: BarHeat = { ...middling, analysis: { C: 0.3, Si: 0.4, Mn: 0.5, Cr: 13.2 } }
    const { row, setting } = hardened([stainless], { design })
    expect(setting('Ac3 as the card measured')).toBe(885)
    expect(row('certificate').verdict).toBe('holds')
    expect(row('hardness-least')).toMatchObject({ verdict: 'holds', predicted: { value: 48 } })
    expect(row('hardness-core').verdict).toBe('not-known')
  })
})

describe('the way from the furnace into the bath', () => {
  it('has a limit that follows from section and heat even where nobody timed it', () => {
    const { row } = hardened([middling], { furnace: { transferSeconds: undefined } })
    expect(row('transfer').verdict).toBe('not-known')
    // 9 mm losing about 6 K/s at first, some 40 K from the setting down to Ac3: between 6 and 8 s by hand.
    expect(row('transfer').limit).toBeGreaterThan(6)
    expect(row('transfer').limit).toBeLessThan(8)
    expect(row('transfer').askedBy).toMatch(/Common practice/)
  })
  it('is judged at the seconds that were timed, from both sides', () => {
    const limit = Number(hardened([middling]).row('transfer').limit)
    expect(hardened([middling], { furnace: { transferSeconds: limit - 0.1 } }).row('transfer').verdict).toBe('holds')
    const late = hardened([middling], { furnace: { transferSeconds: limit + 0.1 } }).row('transfer')
    expect(late.verdict).toBe('falls-short')
    expect(late.remedy).toMatch(/Be in the bath within/)
  })
})

describe('an order that names its heat', () => {
  const order = (shackleHeat: string) => ({
    ...harbourOrder,
    lines: harbourOrder.lines.map((line) => ({ ...line, shackleHeat })),
  })
  const twoHeats = { ...worksFile, heats: [middling, stray] }

  it('is judged by that heat alone', async () => {
    const result = await planOrder({ order: order('M1'), designs: [harbourFile], works: twoHeats })
    if (!result.ok) throw new Error(JSON.stringify(result.issues))
    expect(result.plan.findings.find(({ id }) => id === 'HB50/harden/certificate')?.verdict).toBe('holds')
  })
  it('is refused where the stock does not hold it, with the heats it does hold', async () => {
    const result = await planOrder({ order: order('M9'), designs: [harbourFile], works: twoHeats })
    expect(result.ok ? [] : result.issues[0]).toMatchObject({
      path: 'order.lines[0].shackleHeat',
      code: 'not-found',
      allowed: 'M1, S3',
    })
  })
  it('a heat entered twice in the stock is an issue with its path', () => {
    const twice = read(Works, { ...worksFile, heats: [middling, middling] })
    expect(twice.ok ? [] : twice.issues.map(({ path }) => path)).toEqual(['heats[1].number'])
  })
})

function checked<T extends z.ZodType>(schema: T, file: unknown): z.output<T> {
  const reading = read(schema, file)
  if (!reading.ok) throw new Error(JSON.stringify(reading.issues))
  return reading.value
}
