import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import railyard from '../../../demo/designs/ry40.json'
import harbourOrder from '../../../demo/orders/26-041-harbour.json'
import railOrder from '../../../demo/orders/26-044-rail-yard.json'
import keyOrder from '../../../demo/orders/26-047-replacement-key.json'
import works from '../../../demo/works.json'
import type { Finding } from '../finding.ts'
import type { WorksPlan } from './plan.ts'
import { planOrder } from './plan-order.ts'
import { OPERATIONS } from './route.ts'

const designs = [harbour, railyard]

const known = new Map<unknown, Promise<WorksPlan>>()

/** The plan of a demo order, made once for all tests, or anew with what is changed. */
function planned(order: unknown, changed?: { designs?: unknown[]; works?: unknown }): Promise<WorksPlan> {
  if (changed !== undefined) return newlyPlanned(order, changed)
  const plan = known.get(order) ?? newlyPlanned(order)
  known.set(order, plan)
  return plan
}

async function newlyPlanned(
  order: unknown,
  changed: { designs?: unknown[]; works?: unknown } = {},
): Promise<WorksPlan> {
  const result = await planOrder({ order, designs: changed.designs ?? designs, works: changed.works ?? works })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.plan
}

async function issuesOf(input: Parameters<typeof planOrder>[0]) {
  const result = await planOrder(input)
  if (result.ok) throw new Error('bad input was planned')
  return result.issues
}

const row = (findings: readonly Finding[], id: string): Finding => {
  const found = findings.find((each) => each.id === id)
  if (found === undefined) throw new Error(`no finding ${id}`)
  return found
}

describe('the plan of the harbour order', () => {
  it('has every step of the trade, each with settings, cautions of its hazards, and what to record', async () => {
    const { designs: plans } = await planned(harbourOrder)
    const operations = plans[0]?.operations ?? []
    expect(operations.map(({ operation }) => operation)).toEqual(OPERATIONS)
    for (const { settings, record, instruction, title } of operations) {
      expect(settings.length, title).toBeGreaterThan(0)
      expect(record.length, title).toBeGreaterThan(0)
      expect(instruction, title).not.toBe('')
    }
    const cautionsAt = (kind: string) =>
      operations.find(({ operation }) => operation === kind)?.cautions.map(({ id }) => id)
    expect(cautionsAt('harden')).toEqual(expect.arrayContaining(['quench-oil', 'hot-steel']))
    expect(cautionsAt('clean')).toEqual(expect.arrayContaining(['acid-pickle', 'hydrogen-embrittlement']))
    expect(cautionsAt('nickel')).toContain('nickel-salts')
    expect(cautionsAt('relief-bake')).toContain('hydrogen-embrittlement')
    expect(cautionsAt('cut-keys')).toContain('key-codes-are-secret')
  })

  it('has no figure without a unit or a reason: a setting is a value, or says why it is not known', async () => {
    const { designs: plans } = await planned(harbourOrder)
    for (const { settings } of plans.flatMap(({ operations }) => operations))
      for (const { value, because, title } of settings)
        if (value === null) expect(because, title).toBeTruthy()
        else if (typeof value === 'number') expect(Number.isFinite(value), title).toBe(true)
  })

  it('lists every margin tightest first, each with working, inputs and sources, unknown ones last with the reason', async () => {
    const { findings } = await planned(harbourOrder)
    const shares = findings.map(({ marginShare }) => marginShare ?? Number.POSITIVE_INFINITY)
    expect(shares).toEqual([...shares].sort((a, b) => a - b))
    expect(new Set(findings.map(({ id }) => id)).size).toBe(findings.length)
    for (const { verdict, evidence, unknownBecause, id, remedy } of findings)
      if (verdict === 'not-known') expect(unknownBecause, id).toBeTruthy()
      else {
        expect(evidence?.sources.length, id).toBeGreaterThan(0)
        expect(evidence?.working.length, id).toBeGreaterThan(0)
        expect(remedy !== undefined, id).toBe(verdict === 'falls-short')
      }
  })

  it('splits 480 locks into lots that keep to their line and group, and times each', async () => {
    const { lots } = await planned(harbourOrder)
    expect(lots.map(({ id, locks }) => [id, locks])).toEqual([
      ['26-041-A1', 150],
      ['26-041-A2', 150],
      ['26-041-B1', 40],
      ['26-041-B2', 40],
      ['26-041-B3', 40],
      ['26-041-C1', 60],
    ])
    expect(lots.reduce((total, { keys }) => total + keys, 0)).toBe(300 * 2 + 120 + 6 + 60 * 2 + 4)
    for (const { steps } of lots) for (const { minutes, operation } of steps) expect(minutes, operation).not.toBeNull()
  })

  it('cuts bodies and shackles of all lines together, proven', async () => {
    const { barCutting } = await planned(harbourOrder)
    expect(barCutting.map(({ form }) => form)).toEqual(['flat 50 × 25', 'round 9'])
    for (const { layout, pieces } of barCutting) {
      expect(layout?.proven).toBe(true)
      const cut = layout?.layouts.reduce(
        (total, { times, pieces: own }) => total + times * Object.values(own).reduce((a, b) => a + b, 0),
        0,
      )
      expect(cut).toBe(pieces.reduce((total, { quantity }) => total + quantity, 0))
    }
  })

  it('is the same plan each time', async () => {
    expect(await newlyPlanned(harbourOrder)).toEqual(await planned(harbourOrder))
  })
})

describe('what ties the steps together', () => {
  const changedHarbour = (change: (design: typeof harbour) => void) => {
    const design = structuredClone(harbour)
    change(design)
    return [design, railyard]
  }

  it('3 µm more nickel on the leg costs 3 µm of release clearance and 6 µm of the gap in the bore', async () => {
    const before = await planned(harbourOrder)
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ coating }) => {
        coating.onShackle.minUm += 3
        coating.onShackle.maxUm += 3
      }),
    })
    const moved = (id: string) =>
      (row(before.findings, id).predicted?.value ?? 0) - (row(after.findings, id).predicted?.value ?? 0)
    expect(moved('HB50/close/release-room')).toBeCloseTo(0.003, 9)
    expect(moved('HB50/close/leg-room')).toBeCloseTo(0.006, 9)
  })

  it('a recess deepened as the remedy says turns the release clearance around', async () => {
    const before = await planned(harbourOrder)
    const short = row(before.findings, 'HB50/close/release-hot')
    expect(short.verdict).toBe('falls-short')
    const to = Number(/to ([0-9.]+) mm/.exec(short.remedy ?? '')?.[1])
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ barrel }) => {
        barrel.recessDepth.nominalMm = to
      }),
    })
    expect(row(after.findings, 'HB50/close/release-hot').verdict).toBe('holds')
    expect(to - harbour.barrel.recessDepth.nominalMm).toBeLessThanOrEqual(0.0101)
  })

  it('tempering below the hardness allowed makes the bake longer and its gap smaller', async () => {
    const before = await planned(harbourOrder)
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ heat }) => {
        heat.temperC = 300
      }),
    })
    const hours = ({ designs: plans }: WorksPlan) =>
      plans[0]?.operations
        .find(({ operation }) => operation === 'relief-bake')
        ?.settings.find(({ title }) => title === 'Time at temperature')?.value
    expect(Number(hours(after))).toBeGreaterThan(Number(hours(before)))
    const gap = ({ findings }: WorksPlan) => row(findings, 'HB50/relief-bake/below-tempering').predicted?.value ?? 0
    expect(gap(before) - gap(after)).toBe(130)
  })

  it('a worse gate angle lets the nearest other key open more often', async () => {
    const before = await planned(harbourOrder)
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ mechanism }) => {
        mechanism.gateSigmaDeg = 1
      }),
    })
    const other = ({ findings }: WorksPlan) => row(findings, 'HB50/cut-keys/interchange').predicted?.value ?? 0
    expect(other(after)).toBeGreaterThan(other(before))
  })

  it('a toe bore tighter than the plated leg stops the toe, whatever the heel bore is', async () => {
    const { findings } = await planned(harbourOrder, {
      designs: changedHarbour(({ body }) => {
        body.toeBore.diameter.nominalMm = 9
        body.heelBore.diameter.nominalMm = 9.6
      }),
    })
    expect(row(findings, 'HB50/bend-shackle/toe-entry').predicted?.value).toBe(0)
    expect(row(findings, 'HB50/close/leg-room').verdict).toBe('falls-short')
  })

  it('a loose heel bore costs engagement where both legs are held', async () => {
    const before = await planned(harbourOrder)
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ body }) => {
        body.heelBore.diameter.nominalMm = 9.65
      }),
    })
    const engagement = ({ findings }: WorksPlan) =>
      row(findings, 'HB50/notch-shackle/engagement-room').predicted?.value ?? 0
    expect(engagement(before) - engagement(after)).toBeCloseTo(0.2, 6)
  })

  it('a wider tolerance of the gate costs the own key and lets others in', async () => {
    const before = await planned(harbourOrder)
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ mechanism }) => {
        mechanism.gateWidth.plusMm = 0.2
        mechanism.gateWidth.minusMm = 0.2
      }),
    })
    const value = ({ findings }: WorksPlan, id: string) => row(findings, `HB50/cut-keys/${id}`).predicted?.value ?? 0
    expect(value(after, 'own-key')).toBeLessThanOrEqual(value(before, 'own-key'))
    expect(value(after, 'interchange')).toBeGreaterThan(value(before, 'interchange'))
  })

  it('holding the largest contributor as close as the remedy says turns the clearance around', async () => {
    const before = await planned(harbourOrder)
    const remedy = row(before.findings, 'HB50/close/release-hot').remedy ?? ''
    const sigmaUm = Number(/down from [0-9.]+ to ([0-9.]+) µm/.exec(remedy)?.[1])
    const named = /scatter of ([a-z ]+) down/.exec(remedy)?.[1]
    expect(['barrel recess depth', 'barrel axis to leg axis']).toContain(named)
    const after = await planned(harbourOrder, {
      designs: changedHarbour(({ barrel, body }) => {
        const part = named === 'barrel recess depth' ? barrel.recessDepth : body.legAxisToBarrelAxis
        part.sigmaMm = (sigmaUm - 0.1) / 1000
      }),
    })
    expect(row(after.findings, 'HB50/close/release-hot').verdict).toBe('holds')
  })

  it('an oven that takes a whole lot at once keeps the first rack waiting for the last', async () => {
    const bake = { ...works.bake, loading: 'lot' }
    // With tanks and carrier unknown, racks leave the line as far apart as the slowest tank holds them.
    const { line: _, ...tanksUnknown } = works.plating
    const byLot = await planned(harbourOrder, { works: { ...works, plating: tanksUnknown, bake } })
    const start = row(byLot.findings, 'HB50/relief-bake/start')
    expect(start.verdict).toBe('falls-short')
    expect(start.predicted?.value).toBeCloseTo((75 + 4 * 43.635) / 60, 2)
    // Six nickel tanks let a rack out every 442 s.
    const timed = row((await planned(harbourOrder, { works: { ...works, bake } })).findings, 'HB50/relief-bake/start')
    expect(timed.predicted?.value).toBeCloseTo((75 + (4 * 442.018) / 60) / 60, 3)
  })

  it('a bar form that the works does not hold falls short, and says what to enter', async () => {
    const { findings } = await planned(harbourOrder, {
      works: { ...works, bars: works.bars.filter(({ form }) => form !== 'round 9') },
    })
    expect(row(findings, 'order/bars/round 9')).toMatchObject({
      verdict: 'falls-short',
      remedy: expect.stringMatching(/round 9/),
    })
  })

  it('a steel without tempering values is baked for the hardest shackle allowed, its hardness not known', async () => {
    const { findings } = await planned(harbourOrder, {
      designs: changedHarbour(({ shackle }) => {
        shackle.steel = '20MnB5'
      }),
    })
    expect(row(findings, 'HB50/harden/hardness-least').verdict).toBe('not-known')
    expect(row(findings, 'HB50/prove/pull').verdict).toBe('not-known')
    expect(row(findings, 'HB50/relief-bake/start')).toMatchObject({ verdict: 'holds', limit: 3 })
    expect(row(findings, 'HB50/clean/acid-time')).toMatchObject({ verdict: 'holds', limit: 30 })
  })

  it('a shelf that cannot cut the order falls short even where it holds many short bars', async () => {
    const order = structuredClone(harbourOrder)
    if (order.lines[0]) order.lines[0].quantity = 460
    const bars = row((await planned(order)).findings, 'order/bars/round 9')
    expect(bars.verdict).toBe('falls-short')
    expect(bars.remedy).toMatch(/Buy [1-9] more/)
  })

  it('too few bars in stock show as a margin with the number to buy, not as a refusal', async () => {
    const { findings, barCutting } = await planned(harbourOrder, {
      works: {
        ...works,
        bars: works.bars.map((bar) => ({ ...bar, quantity: bar.form === 'flat 50 × 25' ? 1 : bar.quantity })),
      },
    })
    const bars = row(findings, 'order/bars/flat 50 × 25')
    expect(bars.verdict).toBe('falls-short')
    expect(bars.remedy).toContain(`Buy ${(bars.predicted?.value ?? 0) - 4} more`)
    expect(barCutting[0]?.layout?.proven).toBe(true)
  })
})

describe('other orders', () => {
  it('the rail yard uses two designs and shares the cutting of each bar', async () => {
    const { designs: plans, barCutting, lots } = await planned(railOrder)
    expect(plans.map(({ design }) => design.id)).toEqual(['HB50', 'RY40'])
    expect(barCutting.map(({ form }) => form).sort()).toEqual(['flat 40 × 20', 'flat 50 × 25', 'round 7', 'round 9'])
    expect(lots.reduce((total, { locks }) => total + locks, 0)).toBe(444)
  })

  it('a replacement key makes no lock, cuts no bar and goes through two steps', async () => {
    const { lots, barCutting } = await planned(keyOrder)
    expect(lots.map(({ locks, keys, steps }) => [locks, keys, steps.map(({ operation }) => operation)])).toEqual([
      [0, 2, ['cut-keys', 'release']],
    ])
    expect(barCutting).toEqual([])
  })

  it('a replacement key is not judged by clearances of a lock that nobody builds', async () => {
    const { findings, designs: plans, sentence } = await planned(keyOrder)
    expect(plans[0]?.operations.map(({ operation }) => operation)).toEqual(['cut-keys', 'release'])
    expect(findings.map(({ id }) => id).filter((id) => !/cut-keys|order/.test(id))).toEqual([])
    expect(sentence.verdict).toBe('holds')
  })
})

describe('what is wrong is reported all at once, where it stands', () => {
  it('an unknown steel, a zero length, a negative tolerance and a quantity of 10⁹ together', async () => {
    const design = structuredClone(harbour) as unknown as Record<string, Record<string, unknown>>
    ;(design['shackle'] as Record<string, unknown>)['steel'] = 'unobtainium'
    ;(design['body'] as Record<string, unknown>)['widthMm'] = 0
    ;(design['barrel'] as Record<string, Record<string, unknown>>)['recessDepth'] = {
      nominalMm: 2.7,
      plusMm: -0.01,
      minusMm: 0.03,
    }
    const order = structuredClone(harbourOrder)
    if (order.lines[0]) order.lines[0].quantity = 1e9
    const issues = await issuesOf({
      order,
      designs: [design],
      works: { ...works, saw: { ...works.saw, kerfMm: 'thin' } },
    })
    expect(issues.map(({ path, code }) => [path, code])).toEqual(
      expect.arrayContaining([
        ['order.lines[0].quantity', 'out-of-range'],
        ['designs[0].shackle.steel', 'not-a-choice'],
        ['designs[0].body.widthMm', 'out-of-range'],
        ['designs[0].barrel.recessDepth.plusMm', 'out-of-range'],
        ['works.saw.kerfMm', 'wrong-type'],
      ]),
    )
    expect(issues.find(({ path }) => path === 'designs[0].shackle.steel')?.allowed).toContain('42CrMo4')
  })

  it('a design that is not at hand, with those that are', async () => {
    const [issue] = await issuesOf({ order: harbourOrder, designs: [railyard], works })
    expect(issue).toMatchObject({ path: 'order.lines[0].design', code: 'not-found', value: 'HB50', allowed: 'RY40' })
  })

  it('a route that seals before it tries, and plates before it cleans', async () => {
    const design = structuredClone(harbour)
    const at = (kind: string) => design.route.findIndex(({ operation }) => operation === kind)
    const swap = (a: number, b: number) => {
      const [first, second] = [design.route[a], design.route[b]]
      if (first && second) [design.route[a], design.route[b]] = [second, first]
    }
    swap(at('build'), at('close'))
    swap(at('clean'), at('nickel'))
    const issues = await issuesOf({ order: harbourOrder, designs: [design], works })
    expect(issues.map(({ message }) => message).join(' ')).toMatch(/sealed for good.*|not clean.*/s)
    expect(issues).toHaveLength(2)
  })

  it('a gate that closes at the end of its tolerance, and a notch that runs out of the leg', async () => {
    const design = structuredClone(harbour)
    design.mechanism.gateWidth.minusMm = 0.95
    design.shackle.notch.fromToeEndMm = 3.5
    const issues = await issuesOf({ order: harbourOrder, designs: [design], works })
    expect(issues.map(({ path, allowed }) => [path, allowed])).toEqual([
      ['designs[0].mechanism.gateWidth.nominalMm', 'above 2.27 mm'],
      ['designs[0].shackle.notch.fromToeEndMm', 'above 3.98 mm'],
    ])
  })

  it('groups that do not add up, a due date before receipt, a line twice', async () => {
    const order = structuredClone(harbourOrder)
    order.due = '2026-01-01'
    if (order.lines[1]) order.lines[1].quantity = 121
    if (order.lines[2]) order.lines[2].id = 'A'
    const issues = await issuesOf({ order, designs, works })
    expect(issues.map(({ path }) => path).sort()).toEqual(['order.due', 'order.lines[1].quantity', 'order.lines[2].id'])
  })

  it.each([null, [], 'order', 7, {}])('%j is no order, no design and no works', async (nonsense) => {
    const issues = await issuesOf({ order: nonsense, designs: [nonsense], works: nonsense })
    expect(issues.length).toBeGreaterThanOrEqual(3)
    for (const { message } of issues) expect(message).toMatch(/[.]$/)
  })
})
