import { describe, expect, it } from 'vitest'
import harbourFile from '../../../demo/designs/hb50.json' with { type: 'json' }
import railyardFile from '../../../demo/designs/ry40.json' with { type: 'json' }
import worksFile from '../../../demo/works.json' with { type: 'json' }
import { Design } from './design.ts'
import { fullRack } from './full-rack.ts'
import { platedAreaDm2, platedFaces } from './parts.ts'
import { planDesign } from './plan-design.ts'
import { Works } from './resources.ts'

const worksWith = (plating: { rackPositions?: number; rectifierA?: number } = {}) =>
  Works.parse({ ...worksFile, plating: { ...worksFile.plating, ...plating } })
const designs = [harbourFile, railyardFile].map((file) => Design.parse(structuredClone(file)))

function rackOf(design: Design, works: Works) {
  const answer = fullRack(design, works)
  if (!answer.ok) throw new Error(answer.because)
  return answer.rack
}

describe.each(designs)('a full rack of $title', (design) => {
  it('takes the locks, the area and the current that the plan sets for its baths', () => {
    const works = worksWith()
    const rack = rackOf(design, works)
    const { plan } = planDesign(design, works, { locks: 480, largestLot: 160, codesNeeded: 480 })
    for (const [i, operation] of (['nickel', 'chromium'] as const).entries()) {
      const settings = plan.operations.find((step) => step.operation === operation)?.settings ?? []
      const set = (title: string) => settings.find((setting) => setting.title === title)?.value
      expect(set('Plated area of a lock, body and shackle')).toBe(rack.lockDm2)
      expect(set('Locks on a rack')).toBe(rack.locks)
      expect(set('Rectifier')).toBeCloseTo(rack.layers[i]?.currentA ?? Number.NaN, 9)
    }
  })

  it('is the sum of its faces, each as often as there are locks on it', () => {
    const { faces, lockDm2, rackDm2, locks } = rackOf(design, worksWith())
    expect(faces.reduce((sum, face) => sum + face.lockDm2, 0)).toBeCloseTo(lockDm2, 12)
    expect(faces.reduce((sum, face) => sum + face.rackDm2, 0)).toBeCloseTo(rackDm2, 9)
    expect(rackDm2).toBeCloseTo(lockDm2 * locks, 9)
    expect(lockDm2).toBe(platedAreaDm2(design))
  })

  it('is filled by its places, or by what the rectifier drives, and says which', () => {
    expect(rackOf(design, worksWith({ rackPositions: 2 }))).toMatchObject({ locks: 2, limitedBy: 'places' })
    const { currentDensityAPerDm2 } = design.coating.layers.reduce((a, b) =>
      b.currentDensityAPerDm2 > a.currentDensityAPerDm2 ? b : a,
    )
    const threeLocks = 3.5 * platedAreaDm2(design) * currentDensityAPerDm2
    expect(rackOf(design, worksWith({ rectifierA: threeLocks }))).toMatchObject({ locks: 3, limitedBy: 'current' })
  })

  it('is refused in words where the rectifier cannot drive one lock', () => {
    const answer = fullRack(design, worksWith({ rectifierA: 1 }))
    expect(answer).toMatchObject({ ok: false, because: expect.stringContaining('rectifier') })
  })
})

it('a bore counts in the current by its coating beside the shackle, at most as an open face (by hand)', () => {
  const [design] = designs
  if (design === undefined) throw new Error('no design')
  const bores = (inBores: number) =>
    platedFaces({
      ...design,
      coating: {
        ...design.coating,
        inBores: { ...design.coating.inBores, minUm: inBores, maxUm: inBores },
        onShackle: { ...design.coating.onShackle, minUm: 20, maxUm: 20 },
      },
    }).find(({ key }) => key === 'body-bores')?.currentShare
  expect(bores(5)).toBeCloseTo(0.25, 12)
  expect(bores(0)).toBe(0)
  expect(bores(30)).toBe(1)
})
