import { beforeAll, describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import order from '../../../demo/orders/26-041-harbour.json'
import works from '../../../demo/works.json'
import type { Finding } from '../finding.ts'
import { type JudgedLoad, judgeLoad } from './load-record.ts'
import { planOrder } from './plan-order.ts'

let findings: readonly Finding[]
beforeAll(async () => {
  const result = await planOrder({ order, designs: [harbour], works })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  findings = result.plan.findings
})

const recipe = {
  setC: 837,
  minusK: 10,
  plusK: 10,
  soakMinutes: 30,
  maxSpreadK: 20,
  maxOvershootK: 10,
  maxGapMinutes: 20,
}
const record = (change: object = {}) => ({
  schema: 'haspwright/load-record/1',
  load: 'H-17',
  design: 'HB50',
  treatment: 'hardening',
  couples: ['Roof', 'Load'],
  readings: [
    { minutes: 0, temperaturesC: [20, 20] },
    { minutes: 20, temperaturesC: [838, 831] },
    { minutes: 35, temperaturesC: [842, 834] },
    { minutes: 52, temperaturesC: [840, 836] },
  ],
  recipe,
  ...change,
})
const judged = (change: object = {}): Extract<JudgedLoad, { ok: true }> => {
  const result = judgeLoad(record(change), findings)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}
const row = (load: Extract<JudgedLoad, { ok: true }>, key: string) =>
  load.measured.find(({ finding }) => finding === `HB50/harden/${key}`)

describe('the record of a furnace load', () => {
  it('goes through JSON unchanged and is judged as it was', () => {
    expect(judgeLoad(JSON.parse(JSON.stringify(record())), findings)).toEqual(judgeLoad(record(), findings))
  })

  it('sets what was measured beside the row that predicted it: 831 °C lies 6 K off 837 (by hand)', () => {
    const measured = row(judged(), 'uniformity')
    expect(measured).toMatchObject({ load: 'H-17', value: 6, judged: { verdict: 'holds', limit: 10, margin: 4 } })
  })

  it('a watch tells the way to the bath; without one and without a couple in the bath there is no value', () => {
    expect(row(judged({ transferSeconds: 12 }), 'transfer')?.judged).toMatchObject({ verdict: 'falls-short' })
    expect(row(judged({ transferSeconds: 12 }), 'transfer')?.judged.remedy).toMatch(/^Hold load H-17/)
    expect(row(judged(), 'transfer')).toBeUndefined()
  })

  it('a soak too short rejects the load as a whole', () => {
    expect(judged().verdict).toBe('accepted')
    expect(judged({ recipe: { ...recipe, soakMinutes: 33 } }).verdict).toBe('rejected')
  })

  it('a record of tempering, or of another design, moves no row of hardening', () => {
    expect(judged({ treatment: 'tempering' }).measured).toEqual([])
    expect(judged({ design: 'RY40' }).measured).toEqual([])
  })

  it('names what cannot be read, and readings that contradict each other', () => {
    const bad = judgeLoad(record({ load: '', treatment: 'annealing' }), findings)
    expect(bad.ok ? [] : bad.issues.map(({ path }) => path)).toEqual(['load', 'treatment'])
    const backwards = judgeLoad(
      record({
        readings: [
          { minutes: 5, temperaturesC: [20, 20] },
          { minutes: 4, temperaturesC: [30, 30] },
        ],
      }),
      findings,
    )
    expect(backwards.ok ? [] : backwards.issues.map(({ path }) => path)).toEqual(['readings[1].minutes'])
  })
})
