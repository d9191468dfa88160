import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../../demo/designs/hb50.json' with { type: 'json' }
import railyard from '../../../../demo/designs/ry40.json' with { type: 'json' }
import { sectionSizes } from '../parts/turning-barrel.ts'
import { barrelSectionDrawing } from './barrel-section-drawing.ts'

const designs = [harbour, railyard] as unknown as readonly Design[]
const rest = { front: 0, keyDeg: 0, halfWindowDeg: 5.4 }
const drawn = (design: Design, gatesDeg: readonly number[], dropped: boolean) =>
  barrelSectionDrawing(design, { ...rest, gatesDeg, dropped })

describe('the barrel cut across', () => {
  it.each(designs)('its parts lie in one another as in the design: $id', (design) => {
    const { floor, disc, barrel, bore, sidebar, body } = sectionSizes(design)
    expect(disc).toBe(design.mechanism.discDiameterMm / 2)
    expect(floor).toBeLessThan(disc)
    expect(disc).toBeLessThan(barrel)
    expect(barrel).toBeLessThan(bore)
    expect(body).toBeGreaterThan(bore)
    // Dropped it is flush with the barrel and clear of the floor; held out it stands in the body.
    expect(barrel - sidebar).toBeGreaterThan(floor)
    expect(disc + sidebar).toBeGreaterThan(bore)
    expect(disc + sidebar).toBeLessThan(body)
  })

  it.each(designs)('says in words where the gate stands and whether the sidebar has dropped: $id', (design) => {
    const open = drawn(design, new Array(design.mechanism.discs).fill(0), true)
    const shut = drawn(design, [-15, ...new Array(design.mechanism.discs - 1).fill(0)], false)
    expect(open).toContain('the sidebar has dropped')
    expect(shut).toContain('is held out and locks')
    expect(shut).toContain('−15.0° from the sidebar')
    for (const svg of [open, shut]) expect(svg).not.toMatch(/NaN|Infinity|undefined/)
  })

  it('gates behind the drawn disc are hidden lines, and none is drawn where it stands with the first', () => {
    const [design] = designs
    if (design === undefined) throw new Error('no design')
    const hidden = (svg: string) => svg.match(/stroke-dasharray="1.68 0.84"/g)?.length ?? 0
    expect(hidden(drawn(design, [0, 0, 0, 0, 0, 0, 0, 0, 0], true))).toBe(0)
    expect(hidden(drawn(design, [0, 15, 0, -15, 0, 0, 0, 0, 0], false))).toBe(2)
  })
})
