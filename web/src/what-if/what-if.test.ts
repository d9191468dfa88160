import { Design, demandOf, planOrder, read, Works, type WorksPlan } from '@haspwright/engine'
import { beforeAll, describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import order from '../../../demo/orders/26-041-harbour.json'
import worksFile from '../../../demo/works.json'
import { changedPlan } from './changed-plan.ts'
import { editorFields } from './editor-fields.ts'
import { draftOfDesign, figurePlaces, withFigure } from './figure-places.ts'
import { influences } from './influence.ts'

const design = checked(Design, harbour)
const works = checked(Works, worksFile)
let plan: WorksPlan

beforeAll(async () => {
  const result = await planOrder({ order, designs: [harbour], works: worksFile })
  if (!result.ok) throw new Error('The demo order cannot be planned.')
  plan = result.plan
})

describe('other figures tried on a plan', () => {
  it('without a change the plan is as it was', () => {
    expect(changedPlan(plan, { changed: new Map() })).toBe(plan)
    const same = changedPlan(plan, { changed: new Map([[design.id, design]]) })
    expect(same.findings).toEqual(plan.findings)
    expect(same.sentence).toEqual(plan.sentence)
  })

  it('a deeper barrel recess gives more release clearance, and nothing of the order itself is lost', () => {
    const path = ['barrel', 'recessDepth', 'nominalMm']
    const deeper = withFigure(design, path, design.barrel.recessDepth.nominalMm + 0.05)
    const { findings } = changedPlan(plan, { changed: new Map([[design.id, deeper]]) })
    const was = plan.findings.filter(({ id }) => /close\/release-/.test(id))
    expect(was.length).toBeGreaterThan(0)
    for (const before of was)
      expect(findings.find(({ id }) => id === before.id)?.margin).toBeGreaterThan(
        before.margin ?? Number.POSITIVE_INFINITY,
      )
    expect(new Set(findings.map(({ id }) => id))).toEqual(new Set(plan.findings.map(({ id }) => id)))
  })

  it('the margins follow the analysis of the bar at hand, and a bar of another steel falls short', () => {
    const own = {
      number: 'typed here',
      form: 'round 9',
      kind: 'heat' as const,
      analysis: { C: 0.33, Mn: 0.75, Cr: 1.05, Mo: 0.2 },
    }
    const { findings, sentence } = changedPlan(plan, { changed: new Map(), own: new Map([[design.id, own]]) })
    const row = findings.find(({ id }) => id === `${design.id}/harden/certificate`)
    expect(row).toMatchObject({ verdict: 'falls-short' })
    expect(row?.remedy).toMatch(/Carbon is outside the limits of 42CrMo4/)
    expect(new Set(findings.map(({ id }) => id))).toEqual(new Set(plan.findings.map(({ id }) => id)))
    expect(sentence.verdict).toBe('falls-short')
  })

  it('the margins at closing rest on the recess, the ball and the coating, and not on the drill', () => {
    const found = influences(design, works, demandOf(plan.order, design.id))
    const paths = (found[`${design.id}/close`] ?? []).map(({ path }) => path)
    expect(paths).toContain('barrel.recessDepth.nominalMm')
    expect(paths).toContain('ball.diameter.nominalMm')
    expect(paths).not.toContain('mechanism.stepDeg')
    const fields = editorFields(found[`${design.id}/close`] ?? [], draftOfDesign(design))
    expect(fields.find(({ path }) => path.join('.') === 'barrel.recessDepth')?.part).toBe('Barrel')
  })

  it('every figure of a design is found where it stands', () => {
    for (const { path, value } of figurePlaces(design))
      expect(path.reduce<unknown>((inner, step) => (inner as Record<string | number, unknown>)[step], design)).toBe(
        value,
      )
  })
})

function checked<T extends Parameters<typeof read>[0]>(schema: T, file: unknown) {
  const reading = read(schema, file)
  if (!reading.ok) throw new Error(JSON.stringify(reading.issues))
  return reading.value
}
