import { bodySolid, engagementMm, platedAreaDm2, shackleSolid, wallChains } from '@haspwright/engine'
import { measureArea, measureVolume } from 'replicad'
import { beforeAll, describe, expect, it } from 'vitest'
import { blankLengths } from '../drawing/parts/padlock-geometry.ts'
import { engagementInModelMm } from './engagement.ts'
import { checkInterference } from './interference.ts'
import { openKernel } from './kernel.ts'
import { assembledLock, LOCK_STATES, type LockState } from './lock.ts'
import { measured } from './measure.ts'
import { demoDesign, partsOf } from './model.testing.ts'
import { partList } from './part-list.ts'
import { bentShackle, shackleBend } from './parts/bent-shackle.ts'
import { cutBlock } from './parts/cut-block.ts'
import { shackleBlank } from './parts/shackle-blank.ts'
import { type SolidReport, solidReport } from './report.ts'
import { walls } from './walls.ts'

beforeAll(openKernel)

/** Where round meets round the kernel approximates the curve: volumes and areas then differ by some 10⁻⁶ of the whole. */
const KERNEL = 1e-5

const deviation = (value: number, expected: number) => Math.abs(value / expected - 1)

describe('simple solids by hand', () => {
  const design = demoDesign('hb50')

  it('the faced block is width × thickness × height', () => {
    const { volumeMm3, areaMm2 } = measured(cutBlock(design, 'faced'))
    expect(volumeMm3).toBeCloseTo(50 * 25 * 56, 6)
    expect(areaMm2).toBeCloseTo(2 * (50 * 25 + 50 * 56 + 25 * 56), 6)
  })

  it('the blank is a cylinder: π/4 · 9² · length', () => {
    const { total } = blankLengths(design)
    expect(measureVolume(shackleBlank(design, 'faced'))).toBeCloseTo((Math.PI / 4) * 81 * total, 6)
  })

  it('the bend is half a torus: section and rim times the way of their centre (Pappus)', () => {
    const [R, r] = [16.9, 4.5]
    const bend = shackleBend(design, 'before plating')
    expect(measureVolume(bend)).toBeCloseTo(Math.PI * r ** 2 * Math.PI * R, 6)
    expect(measureArea(bend)).toBeCloseTo(2 * Math.PI * r * Math.PI * R + 2 * Math.PI * r ** 2, 6)
  })

  it('the bent shackle covers π d times its centre line and both ends', () => {
    const [d, line] = [9, 70 + 50 + Math.PI * 16.9]
    expect(measureArea(bentShackle(design, 'before plating'))).toBeCloseTo(
      Math.PI * d * line + (Math.PI / 2) * d ** 2,
      5,
    )
  })
})

describe.each(['hb50', 'ry40'] as const)('the model of %s', (name) => {
  const design = demoDesign(name)
  const solids = () => partsOf(design)
  const volume = (key: string) => measureVolume(solids().get(key) ?? fail(key))
  const fail = (key: string): never => {
    throw new Error(`no solid ${key}`)
  }
  let reported: SolidReport | undefined
  /** Holding every two parts against each other takes the kernel seconds: once for all tests of a design. */
  const report = () => {
    reported ??= solidReport(design, partList(design), solids())
    return reported
  }

  it('loses volume with every machining step', () => {
    for (const [before, after] of [
      ['body-sawn', 'body-faced'],
      ['body-faced', 'body-drilled'],
      ['shackle-sawn', 'shackle-blank'],
      ['shackle-bent', 'shackle-notched'],
    ] as const)
      expect(volume(after), after).toBeLessThan(volume(before))
  })

  it('gains by plating: the finished body and shackle hold more than the machined ones', () => {
    expect(volume('body-finished')).toBeGreaterThan(volume('body-drilled'))
    expect(volume('shackle-finished')).toBeGreaterThan(volume('shackle-notched'))
  })

  it('keeps its volume in the bend but for the shift of the neutral axis', () => {
    const { barDiameter, neutralAxisFactor } = design.shackle
    // The blank is measured along the neutral axis, the solid along the middle: π (0.5 − k) d longer.
    const longer = Math.PI * (0.5 - neutralAxisFactor) * barDiameter.nominalMm
    const section = (Math.PI / 4) * barDiameter.nominalMm ** 2
    expect(volume('shackle-bent') - volume('shackle-blank')).toBeCloseTo(longer * section, 4)
  })

  it('agrees with the closed forms that the plan computes with', () => {
    const body = measured(solids().get('body-finished') ?? fail('body-finished'))
    const shackle = measured(solids().get('shackle-notched') ?? fail('shackle-notched'))
    const [bodyForm, shackleForm] = [bodySolid(design), shackleSolid(design)]
    expect(deviation(bodyForm.volumeMm3, body.volumeMm3)).toBeLessThan(KERNEL)
    expect(deviation(bodyForm.outsideMm2, body.outsideAreaMm2)).toBeLessThan(KERNEL)
    expect(deviation(bodyForm.areaMm2, body.areaMm2)).toBeLessThan(KERNEL)
    expect(deviation(shackleForm.volumeMm3, shackle.volumeMm3)).toBeLessThan(KERNEL)
    expect(deviation(shackleForm.areaMm2, shackle.areaMm2)).toBeLessThan(KERNEL)
    expect(platedAreaDm2(design)).toBeGreaterThan((body.outsideAreaMm2 + shackle.areaMm2) * 1e-4)
    expect(platedAreaDm2(design)).toBeLessThan((body.areaMm2 + shackle.areaMm2) * 1e-4)
  })

  it('stands locked and open, and on the way between, with no two parts in one place', () => {
    const { interferences, pairsChecked } = report().interference
    const parts = assembledLock(design).length
    expect(interferences).toEqual([])
    expect(pairsChecked).toBe(((parts * (parts - 1)) / 2) * LOCK_STATES.length)
  }, 60_000)

  it('says how far neighbours clear each other, as their sizes say (by hand)', () => {
    const states: readonly LockState[] = ['locked', 'released', 'open']
    const contact = (...parts: [string, string]) =>
      report()
        .interference.pairs.find((pair) => pair.parts.join() === parts.join())
        ?.contacts.filter(({ state }) => states.includes(state))
    const { body, ball, shackle, coating, mechanism } = design
    const grown = shackle.barDiameter.nominalMm + (coating.onShackle.minUm + coating.onShackle.maxUm) / 1000 // µm → mm, both sides
    const legInBore = Math.min(...[body.heelBore, body.toeBore].map((bore) => (bore.diameter.nominalMm - grown) / 2))
    expect(contact('Body', 'Shackle')?.[0]).toEqual({
      state: 'locked',
      kind: 'clears',
      gapMm: expect.closeTo(legInBore, 4),
    })
    const ballInBore = (body.crossBore.diameter.nominalMm - ball.diameter.nominalMm) / 2
    expect(contact('Body', 'Ball, toe side')?.[2]).toEqual({
      state: 'open',
      kind: 'clears',
      gapMm: expect.closeTo(ballInBore, 6),
    })
    const apart = { kind: 'clears', gapMm: expect.closeTo(mechanism.spacerThicknessMm, 6) }
    expect(contact('Disc 1', 'Disc 2')).toEqual(states.map((state) => ({ state, ...apart })))
    expect(contact('Disc 1', 'Spacer 1')?.map(({ kind }) => kind)).toEqual(['touches', 'touches', 'touches'])
    expect(contact('Shackle', 'Ball, toe side')?.map(({ kind }) => kind)).toEqual(['clears', 'apart', 'apart'])
    expect(contact('Shackle', 'Cover')).toBeUndefined()
  }, 60_000)

  it('sees parts that do stand in one place', () => {
    const sunk = assembledLock(design)
      .filter(({ name }) => name === 'Body' || name === 'Barrel' || name === 'Cover')
      .map((part) =>
        part.name === 'Cover'
          ? { ...part, placements: { ...part.placements, locked: { shiftMm: [0, 0, -10] as const, turnDeg: 0 } } }
          : part,
      )
    const { interferences, pairs } = checkInterference(sunk, solids(), ['locked'])
    expect(interferences.map(({ parts }) => parts.join())).toContain('Barrel,Cover')
    const [contact] = pairs.find(({ parts }) => parts.join() === 'Barrel,Cover')?.contacts ?? []
    expect(contact).toEqual({ state: 'locked', kind: 'shares room', commonMm3: expect.any(Number) })
  })

  it('sees a part that lies wholly in the material of another, and how much of it: all (by hand)', () => {
    const { body, ball } = design
    const low = [body.legAxisToBarrelAxis.nominalMm, 0, 6 - body.height.nominalMm] as const
    const buried = assembledLock(design)
      .filter(({ name }) => name === 'Body' || name === 'Ball, toe side')
      .map((part) =>
        part.name === 'Body'
          ? part
          : { ...part, placements: { ...part.placements, locked: { shiftMm: low, turnDeg: 0 } } },
      )
    const { interferences } = checkInterference(buried, solids(), ['locked'])
    expect(interferences).toEqual([
      {
        state: 'locked',
        parts: ['Body', 'Ball, toe side'],
        commonMm3: expect.closeTo((Math.PI / 6) * ball.diameter.nominalMm ** 3, 3),
      },
    ])
  })

  it('lets the ball stand in the leg as far as the chain says', () => {
    // The kernel's boxes are wider than the solid by 10⁻⁷ mm on either side.
    expect(engagementInModelMm(design)).toBeCloseTo(engagementMm(design), 6)
  })

  it('reports what each face counts in the current, from the areas of the solid and for the same sum as the plan', () => {
    const { plated } = report()
    for (const { title, solidMm2, currentShare, currentDm2 } of plated.faces)
      expect(deviation(currentDm2, solidMm2 * currentShare * 1e-4), title).toBeLessThan(KERNEL)
    expect(plated.currentDm2).toBe(platedAreaDm2(design))
    expect(plated.faces.reduce((sum, face) => sum + face.currentDm2, 0)).toBeCloseTo(plated.currentDm2, 12)
    expect(plated.faces.map(({ title }) => title)).toEqual(['Body, outside', 'Body, bores', 'Shackle'])
  }, 60_000)

  it('names every wall that is thinner than asked by what it lies between, and clears the others at the limit', () => {
    const [first, second, third, fourth, fifth] = walls(design)
    const limit = fourth?.thicknessMm ?? 0
    const asked = (limitMm: number) =>
      walls({
        ...design,
        requirements: { ...design.requirements, wallMm: { ...design.requirements.wallMm, limit: limitMm } },
      })
    const short = asked(limit + 1e-3).filter(({ holds }) => !holds)
    expect(short.map(({ between }) => between.join())).toEqual(
      [first, second, third, fourth, ...((fifth?.thicknessMm ?? 0) < limit + 1e-3 ? [fifth] : [])].map((wall) =>
        wall?.between.join(),
      ),
    )
    expect(asked(limit)[3]?.holds).toBe(true)
  })

  it('has the walls that the plan judges, and none thinner', () => {
    const judged = wallChains(design).map(({ chain }) =>
      chain.contributors.reduce((sum, { nominalMm, sensitivity }) => sum + nominalMm * sensitivity, 0),
    )
    const found = walls(design).map(({ thicknessMm }) => thicknessMm)
    for (const wall of judged)
      expect(
        found.some((each) => Math.abs(each - wall) < 1e-6),
        `${wall} mm`,
      ).toBe(true)
    expect(found[0]).toBeCloseTo(Math.min(...judged), 6)
  })
})
