import { Design, type DesignPlan, planOrder, read, Works, type WorksPlan } from '@haspwright/engine'
import { beforeAll, describe, expect, it } from 'vitest'
import harbourFile from '../../../demo/designs/hb50.json'
import railyardFile from '../../../demo/designs/ry40.json'
import orderFile from '../../../demo/orders/26-041-harbour.json'
import worksFile from '../../../demo/works.json'
import { setAt } from '../fields/draft.ts'
import { analysesInAddress } from './analyses-in-address.ts'
import { furnaceCycle, placedSteps, recipeStart } from './furnace-cycle.ts'
import {
  chargeHeatInput,
  chargePlanInput,
  coldInput,
  hardenedDesigns,
  proposalInput,
  quenchInput,
  recordRecipe,
  temperedInput,
} from './heat-inputs.ts'
import { heatView, judgeRecord, loadsView } from './heat-view.ts'
import { emptyCertificate, readAnalysis } from './own-analysis.ts'
import { namedPlaces, sectionSentence } from './section-words.ts'
import { temperingSentence } from './tempering-words.ts'

const harbour = checked(Design, harbourFile)
const railyard = checked(Design, railyardFile)
const works = checked(Works, worksFile)
const heat = (change: Partial<Design['heat']>): Design => ({ ...harbour, heat: { ...harbour.heat, ...change } })
const leanBar = { C: 0.38, Si: 0.2, Mn: 0.6, Cr: 0.9, Mo: 0.15 }
const window = { minC: 830, maxC: 850, setC: 840, soakMinutes: 30 }

describe('what a design asks of the calculations', () => {
  it('steel, bar, bath, agitation, temperature and time are the design’s', () => {
    expect(temperedInput(harbour)).toEqual({
      steel: '42CrMo4',
      diameterMm: 9,
      medium: 'oil',
      agitation: 'good',
      points: 21,
      temperatureC: 430,
      minutes: 60,
    })
    expect(quenchInput(harbour, leanBar).composition).toBe(leanBar)
    expect(proposalInput(harbour)).toEqual({ steel: '42CrMo4', hrc: 46, minutes: 60 })
    expect(coldInput(harbour)).toEqual({ steel: '42CrMo4', temperC: 430, useC: -40 })
  })

  it('without an impact asked for in the cold the coldest use counts', () => {
    const { impactColdC: _, ...requirements } = harbour.requirements
    expect(coldInput({ ...harbour, requirements: { ...requirements, coldC: -25 } }).useC).toBe(-25)
  })

  it('a record of hardening is held against the window of the steel, one of tempering against the design', () => {
    expect(recordRecipe('hardening', harbour, window)).toMatchObject({
      setC: 840,
      minusK: 10,
      plusK: 10,
      soakMinutes: 30,
    })
    expect(recordRecipe('tempering', harbour, window)).toMatchObject({ setC: 430, soakMinutes: 60 })
  })
})

describe('the picture of a design', () => {
  it('42CrMo4 of 9 mm in oil hardens through: an estimate at all three places, with a band', () => {
    const { shown } = heatView(harbour)
    for (const { quenched, tempered } of namedPlaces(shown)) {
      expect(tempered?.basis).toBe('estimate')
      expect(tempered?.lowHrc).toBeLessThan(tempered?.hrc ?? 0)
      expect(quenched?.lowHrc).toBeLessThan(quenched?.hrc ?? 0)
      expect(quenched?.highHrc).toBeGreaterThan(quenched?.hrc ?? 99)
    }
    expect(sectionSentence(shown, harbour.heat.hardness)).toMatch(
      /^Surface .* HRC .* as quenched, .* tempered\..*Asked: \d+ to \d+ HRC\.$/,
    )
  })

  it('a thick 41Cr4 in still oil does not harden through: the words say upper bound', () => {
    const thick = {
      ...heat({ agitation: 'none' }),
      shackle: {
        ...harbour.shackle,
        steel: '41Cr4' as const,
        barDiameter: { ...harbour.shackle.barDiameter, nominalMm: 40 },
      },
    }
    const { shown } = heatView(thick)
    expect(namedPlaces(shown).at(-1)?.tempered?.basis).toBe('upper bound')
    expect(sectionSentence(shown, thick.heat.hardness)).toContain('Centre')
    expect(sectionSentence(shown, thick.heat.hardness)).toContain('at most')
  })

  it('a hotter tempering leaves less hardness, and the chosen point lies on the curve', () => {
    const hrc = (design: Design) => {
      const { tempered } = heatView(design).shown
      return tempered.ok ? tempered.output.surfaceHrc : Number.NaN
    }
    expect(hrc(heat({ temperC: 500 }))).toBeLessThan(hrc(harbour))
    const { shown } = heatView(harbour)
    expect(shown.curve.find(({ temperatureC }) => temperatureC === 430)?.hrc).toBeCloseTo(hrc(harbour), 9)
  })

  it('the curve never rises, and for one hour it goes through the points of the card', () => {
    const { shown, cardRows } = heatView(harbour)
    const surface = shown.quenched.ok ? shown.quenched.output.surfaceHrc : Number.NaN
    for (const [i, { hrc }] of shown.curve.entries()) expect(hrc).toBeLessThanOrEqual(shown.curve[i - 1]?.hrc ?? 99)
    for (const { temperatureC, hrc } of cardRows)
      expect(shown.curve.find((point) => point.temperatureC === temperatureC)?.hrc).toBeCloseTo(
        Math.min(hrc, surface),
        9,
      )
  })

  it("a heat's own analysis moves section and transformation temperatures and keeps the middle beside it", () => {
    const { shown, middle } = heatView(harbour, leanBar)
    const surface = (known: typeof shown.quenched | undefined) => (known?.ok ? known.output.surfaceHrc : Number.NaN)
    expect(surface(shown.quenched)).toBeLessThan(surface(middle?.quenched))
    const ac3 = (known: typeof shown.points | undefined) => (known?.ok ? known.output.ac3C : Number.NaN)
    expect(ac3(shown.points)).toBeGreaterThan(ac3(middle?.points))
  })

  it('a steel no method reaches says why instead of drawing', () => {
    const boron = { ...harbour, shackle: { ...harbour.shackle, steel: '30MnB5' as const } }
    const { shown, cardRows } = heatView(boron)
    expect(shown.quenched.ok).toBe(false)
    expect(cardRows).toEqual([])
    expect(sectionSentence(shown, boron.heat.hardness)).toContain('not known as quenched')
    expect(temperingSentence(heatView(boron), boron, works)).toContain('not known yet')
  })

  it('the bake and its gap stand in the words; a gap too small is said', () => {
    expect(temperingSentence(heatView(harbour), harbour, works)).toContain('225 K below the tempering')
    const near = heat({ temperC: 240 })
    expect(temperingSentence(heatView(near), near, works)).toContain('too little')
  })
})

describe('the furnace cycle', () => {
  const cycle = furnaceCycle(harbour, window, { heatUpMinutes: 20, temperHeatUpMinutes: 12, works })

  it('lasts as long as the plan counts a charge', () => {
    const last = placedSteps(cycle).at(-1)
    expect(last?.toMinute).toBeCloseTo(30 + 60 + works.furnace.heatUpMinutes, 9)
  })

  it('each step begins where the one before ended', () => {
    const steps = placedSteps(cycle, 7)
    expect(steps[0]).toMatchObject({ fromMinute: 7, fromC: 20 })
    for (const [i, step] of steps.entries()) {
      const before = steps[i - 1]
      if (before === undefined) continue
      expect(step.fromMinute).toBe(before.toMinute)
      expect(step.fromC).toBe(before.toC)
    }
  })

  it('is laid so that record and recipe come to temperature together; without a soak it starts at zero', () => {
    expect(recipeStart(cycle, 'Soak', 55)).toBe(35)
    expect(placedSteps(cycle, recipeStart(cycle, 'Temper', 300)).at(-1)?.fromMinute).toBeCloseTo(300, 9)
    expect(recipeStart(cycle, 'Soak', undefined)).toBe(0)
  })

  it('says when the works states less time than heating takes', () => {
    expect(
      furnaceCycle(harbour, window, { heatUpMinutes: 90, temperHeatUpMinutes: 12, works }).restMinutes,
    ).toBeLessThan(0)
  })
})

describe('a furnace record', () => {
  const log = 'min;Roof;Load\n0;20;20\n30;800;760\n40;838;834\n60;841;839\n75;840;840\n76;840;120\n'
  const recipe = { ...recordRecipe('hardening', harbour, window), maxGapMinutes: 31 }

  it('is read, thinned and judged; too short a soak is rejected', () => {
    const good = judgeRecord(log, recipe)
    expect(good.ok && good.judged.ok && good.judged.output.verdict).toBe('accepted')
    expect(good.ok && good.lines.map(({ couple }) => couple)).toEqual(['Roof', 'Load'])
    const short = judgeRecord(log, { ...recipe, soakMinutes: 60 })
    expect(short.ok && short.judged.ok && short.judged.output.verdict).toBe('rejected')
  })

  it('every line that cannot be read is named, and limits that cannot be read leave the record readable', () => {
    const bad = judgeRecord('min;Load\n0;20\n10;hot\n9;30\n20;9000\n', recipe)
    expect(!bad.ok && bad.issues.map(({ path }) => path)).toEqual([
      'lines[3].columns[2]',
      'lines[4].columns[1]',
      'lines[5].columns[2]',
    ])
    const unjudged = judgeRecord(log, { ...recipe, soakMinutes: 'long' })
    expect(unjudged.ok && !unjudged.judged.ok && unjudged.judged.issues[0]?.path).toBe('recipe.soakMinutes')
  })
})

describe("a heat's own analysis", () => {
  const typed = (values: Record<string, string>) =>
    Object.entries(values).reduce(
      (draft, [element, text]) => setAt(draft, ['analysis', element], text),
      emptyCertificate,
    )
  const good = { C: '0,42', Si: '0.25', Mn: '0.8', Cr: '1.1', Mo: '0.2' }

  it('an empty form is no analysis; a complete one within the limits is used without a word', () => {
    expect(readAnalysis('42CrMo4', emptyCertificate)).toMatchObject({ empty: true, issues: [] })
    expect(readAnalysis('42CrMo4', typed(good))).toMatchObject({
      empty: false,
      outside: false,
      issues: [],
      own: { kind: 'heat', analysis: { C: 0.42, Cr: 1.1 } },
    })
  })

  it('an element outside the steel is said and still followed; one that is missing holds the plots back', () => {
    const outside = readAnalysis('42CrMo4', typed({ ...good, C: '0.52' }))
    expect(outside.outside).toBe(true)
    expect(outside.own).toBeDefined()
    expect(outside.issues[0]).toMatchObject({ path: 'analysis.C', allowed: '0.38 to 0.45 %' })
    const { Cr: _, ...without } = good
    expect(readAnalysis('42CrMo4', typed(without)).own).toBeUndefined()
  })

  it('what cannot be read comes back at its field', () => {
    expect(readAnalysis('42CrMo4', typed({ ...good, Mn: 'some' })).issues.map(({ path }) => path)).toEqual([
      'analysis.Mn',
    ])
  })

  it('an address holds objects by design and nothing else', () => {
    expect(analysesInAddress({ HB50: { kind: 'heat' }, x: 3 })).toEqual({ analysis: { HB50: { kind: 'heat' } } })
    for (const broken of [undefined, 'C0.4', 3, [], {}, { HB50: null }]) expect(analysesInAddress(broken)).toEqual({})
  })
})

describe('furnace charges of an order', () => {
  let plan: WorksPlan
  beforeAll(async () => {
    const result = await planOrder({ order: orderFile, designs: [harbourFile], works: worksFile })
    if (!result.ok) throw new Error('The demo order cannot be planned.')
    plan = result.plan
  })

  it('holds every lock of every lot once, and says what it takes', () => {
    const { plan: charges, heats } = loadsView(plan.lots, hardenedDesigns(plan.designs), works)
    if (!charges.ok) throw new Error(charges.because)
    const parts = charges.output.charges.reduce(
      (sum, { times, lots }) => sum + times * lots.reduce((inner, lot) => inner + lot.parts, 0),
      0,
    )
    expect(parts).toBe(plan.lots.reduce((sum, { locks }) => sum + locks, 0))
    expect(charges.output.lowerBound).toBeLessThanOrEqual(charges.output.loads)
    expect(heats.every(({ ok }) => ok)).toBe(true)
  })

  it('unlike recipes get recipes of their own; lots without locks need none', () => {
    const designs = [
      { design: harbour, window },
      { design: railyard, window },
      { design: { ...harbour, id: 'HB51' }, window },
    ]
    const lots = ['HB50', 'RY40', 'HB51', 'HB50'].map((design, i) => ({ id: `L${i}`, design, locks: i === 3 ? 0 : 10 }))
    const { input, recipes } = chargePlanInput(lots, designs, works)
    expect(input.lots.map(({ lot, recipe }) => [lot, recipe])).toEqual([
      ['L0', 'Recipe 1'],
      ['L1', 'Recipe 2'],
      ['L2', 'Recipe 1'],
    ])
    expect(recipes[0]?.words).toContain('temper 430 °C for 60 min')
  })

  it('a works that states no quench tank, or one of another bath, leaves the warming not known and says what is missing', () => {
    const { quenchTank: _, ...furnace } = works.furnace
    const bare = chargeHeatInput(20, { design: harbour, window }, { ...works, furnace })
    expect(bare).toMatchObject({ ok: false, because: expect.stringContaining('no quench tank') })
    const other = chargeHeatInput(20, { design: heat({ quenchant: 'polymer' }), window }, works)
    expect(other).toMatchObject({ ok: false, because: expect.stringContaining('tank of oil') })
  })

  it('only designs that are hardened are charged', () => {
    const soft = (designs: readonly DesignPlan[]) =>
      designs.map((each) => ({
        ...each,
        operations: each.operations.filter(({ operation }) => operation !== 'harden'),
      }))
    expect(hardenedDesigns(plan.designs)).toHaveLength(1)
    expect(hardenedDesigns(soft(plan.designs))).toHaveLength(0)
  })
})

function checked<T extends Parameters<typeof read>[0]>(schema: T, file: unknown) {
  const reading = read(schema, file)
  if (!reading.ok) throw new Error(JSON.stringify(reading.issues))
  return reading.value as ReturnType<T['parse']>
}
