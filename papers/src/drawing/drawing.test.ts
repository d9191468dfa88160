import { type Design, OPERATIONS, operationTitles } from '@haspwright/engine'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import railyard from '../../../demo/designs/ry40.json' with { type: 'json' }
import { sampleAllocation, samplePlan } from '../sample-plan.testing.ts'
import { typesetter } from '../typeset/typesetter.ts'
import {
  barLayoutDrawing,
  barrelDrawing,
  bodyDrawing,
  detentDrawing,
  discStackDrawing,
  partDrawing,
  printPalette,
  shackleBentDrawing,
  shackleBlankDrawing,
} from './index.ts'
import { escapeXml } from './kit/xml.ts'
import { blankLengths, shackleOutline } from './parts/padlock-geometry.ts'
import { changed, reckoned } from './reckoned.testing.ts'

const designs = [harbour, railyard] as unknown as readonly [Design, Design]
const [hb50] = designs

const everyDrawing = (design: Design): string[] => [
  ...OPERATIONS.flatMap((operation) => [
    partDrawing(operation, design, 'station'),
    partDrawing(operation, design, 'sheet', printPalette),
  ]),
  bodyDrawing(design),
  shackleBlankDrawing(design),
  shackleBentDrawing(design),
  barrelDrawing(design),
  discStackDrawing(design),
  detentDrawing(design, { state: 'locked' }),
  detentDrawing(design, { state: 'released', coldC: -40, coldMm: 0.046 }),
]

/** A strict XML reader: the typesetter's. */
const setter = await typesetter()
const wellFormed = (svgs: readonly string[]) => setter.sets('#for s in data { let _ = xml(bytes(s)) }', svgs)

const boundsOf = (shape: ReturnType<typeof shackleOutline>) => {
  const xs = shape.flatMap((s) => (s[0] === 'Z' ? [] : [s[0] === 'A' ? s[4] : s[1]]))
  const ys = shape.flatMap((s) => (s[0] === 'Z' ? [] : [s[0] === 'A' ? s[5] : s[2]]))
  return { width: Math.max(...xs) - Math.min(...xs), bottom: Math.max(...ys) }
}

/** Multiplies every size of a design, counts left alone, each by a factor of its own. */
function stretch(record: object, factors: Iterator<number>): void {
  for (const [key, value] of Object.entries(record)) {
    if (typeof value === 'object' && value !== null) stretch(value, factors)
    else if (typeof value === 'number' && !['discs', 'values'].includes(key))
      Object.assign(record, { [key]: value * (factors.next().value ?? 1) })
  }
}

describe('every drawing', () => {
  it.each(designs.map((design) => [design.id, design] as const))(
    'of %s is well-formed, says what it shows, and holds no broken number',
    (_, design) => {
      const svgs = everyDrawing(design)
      expect(wellFormed(svgs)).toBe(true)
      for (const svg of svgs) {
        expect(svg).toMatch(/<title id="[^"]+">[^<]+<\/title><desc id="[^"]+">[^<]+<\/desc>/)
        expect(svg).not.toMatch(/NaN|Infinity|undefined/)
      }
    },
  )
  it('has identifiers of its own, so that all can stand in one page', () => {
    const ids = everyDrawing(hb50).flatMap((svg) => [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id))
    expect(new Set(ids).size).toBe(ids.length)
    for (const svg of everyDrawing(hb50))
      for (const [, id] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(svg).toContain(` id="${id}"`)
  })
  it('takes its colours from the page, or from the palette it is given', () => {
    expect(partDrawing('close', hb50, 'station')).toContain('var(--ink)')
    for (const operation of OPERATIONS)
      expect(partDrawing(operation, hb50, 'sheet', printPalette)).not.toContain('var(')
  })
  it('keeps hostile names as text', () => {
    const design = changed((d) => {
      d.title = '<script>"&\u0000\ud800'
      d.revision = ']]><x'
      d.body.barForm = '\'"><svg onload=x>'
    })
    const svgs = everyDrawing(design)
    expect(wellFormed(svgs)).toBe(true)
    expect(svgs.join('')).not.toMatch(/<script|<x|<svg onload/)
    expect(
      wellFormed([
        barLayoutDrawing({
          form: '<b>&',
          section: { kind: 'round', diameterMm: 9 },
          pieces: [],
          inStock: 0,
          kerfMm: 0,
          endTrimMm: 0,
          gripMm: 0,
          because: '<i>',
        }),
      ]),
    ).toBe(true)
  })
  it('of a design with sizes far from any padlock still holds no broken number', () => {
    fc.assert(
      fc.property(fc.infiniteStream(fc.double({ min: 0.2, max: 4, noNaN: true })), (factors) => {
        const design = changed((d) => stretch(d, factors))
        expect(everyDrawing(design).join('')).not.toMatch(/NaN|Infinity|undefined/)
      }),
      { seed: 4170, numRuns: 30 },
    )
  })
  it('has a station picture without words', () => {
    for (const operation of OPERATIONS) expect(partDrawing(operation, hb50, 'station')).not.toContain('<text')
    expect(Object.keys(operationTitles)).toEqual([...OPERATIONS])
  })
})

describe('drawings are to scale', () => {
  it('the shackle is as wide over its legs and as long as the design says', () => {
    for (const design of designs) {
      const { width, bottom } = boundsOf(shackleOutline(design, true))
      const { insideWidth, barDiameter, heelLegMm } = design.shackle
      expect(width).toBeCloseTo(insideWidth.nominalMm + 2 * barDiameter.nominalMm, 9)
      expect(bottom).toBe(heelLegMm)
    }
  })
  it('the blank is both legs and the neutral axis of the half circle: 70 + 50 + π (12.4 + 0.46 · 9) mm', () => {
    const { total, bend } = blankLengths(reckoned)
    expect(bend).toBeCloseTo(Math.PI * (12.4 + 0.46 * 9), 12)
    expect(total).toBeCloseTo(120 + bend, 12)
    expect(shackleBlankDrawing(reckoned)).toContain(`>${total.toFixed(2)}<`)
  })
  it('the body drawing at 2 : 1 draws a 50 mm body 100 mm wide, and shows limits before plating and finished', () => {
    const svg = bodyDrawing(reckoned)
    expect(svg).toContain('scale 2 : 1')
    expect(svg).toContain('d="M66 46L166 46L166 158L66 158Z"')
    // First angle: seen from the left on the right of the front and level with it, seen from above under it.
    expect(svg).toContain('d="M250 46L300 46L300 158L250 158Z"')
    expect(svg).toContain('d="M66 204L166 204L166 254L66 254Z"')
    // Heel bore 9.25 to 9.31 finished, 2 to 12 µm a face: 9.25 + 2 · 0.012 to 9.31 + 2 · 0.002 before.
    expect(svg).toContain('9.274 … 9.314')
    expect(svg).toContain('plated')
    expect(svg).toContain('first angle')
  })
  it('where the coating varies by more than the tolerance it says that no size fits', () => {
    const svg = bodyDrawing(
      changed((d) => {
        d.coating.inBores = { minUm: 0, maxUm: 60 }
      }),
    )
    expect(svg).toContain('no size before plating fits')
  })
  it('the locked detent shows R + d − (C − r), the released one p − (R + d − (C − r)), over the coating', () => {
    // R 7, d 8, C 16.9, r 4.5 + 0.036 (mean of 26 to 46 µm), p 2.72.
    expect(detentDrawing(reckoned, { state: 'locked' })).toContain('= 2.636')
    expect(detentDrawing(reckoned, { state: 'released' })).toContain('= 0.084')
    const shallow = changed((d) => {
      d.barrel.recessDepth.nominalMm = 2.5
    }, reckoned)
    expect(detentDrawing(shallow, { state: 'released' })).toContain('var(--short)')
  })
  it('a bar layout shows how often it is cut, every piece, and where a layout is missing, why', () => {
    const [round, flat] = samplePlan.barCutting
    if (round === undefined || flat === undefined) throw new Error('the sample has two bars')
    const svg = barLayoutDrawing(round)
    expect(svg).toContain('30 ×')
    expect(svg.match(/>A</g)?.length).toBe(16 + 1) // sixteen pieces and the row of the table
    expect(barLayoutDrawing(flat)).toContain('There is no such bar in stock.')
  })
  it('a bar layout names the heat and its lots, and which end goes back to the rack with its length, clamped end included', () => {
    const [round] = samplePlan.barCutting
    const [first] = round?.layout?.layouts ?? []
    if (round?.layout === undefined || first === undefined) throw new Error('the sample has a bar layout')
    const layouts = [{ ...first, offcutMm: 553, heat: '7F-214', lots: ['A1', 'A2'] }]
    const cutting = { ...round, layout: { ...round.layout, layouts }, gripMm: 45 }
    const kept = barLayoutDrawing({ ...cutting, remnants: [{ lengthMm: 598, quantity: 1, heat: '7F-214' }] })
    expect(kept).toContain('heat 7F-214 · A1, A2')
    expect(kept).toContain('598 back to the rack')
    const ofAnother = barLayoutDrawing({ ...cutting, remnants: [{ lengthMm: 598, quantity: 1, heat: 'another' }] })
    expect(ofAnother).not.toContain('back to the rack')
    expect(ofAnother).toContain('553 left')
  })
  it('a changed figure moves the drawing', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 20, noNaN: true }), (more) => {
        const taller = changed((d) => {
          d.body.height.nominalMm += more
        })
        expect(partDrawing('drill-body', taller, 'station')).not.toBe(partDrawing('drill-body', hb50, 'station'))
      }),
      { seed: 4170, numRuns: 20 },
    )
  })
})

describe('key and stack drawings', () => {
  it('come from the design alone: nothing of an allocation goes in', () => {
    for (const operation of ['cut-keys', 'build'] as const) {
      const svg = partDrawing(operation, hb50, 'sheet')
      for (const { blindCode, name } of sampleAllocation.keys) {
        expect(svg).not.toContain(blindCode)
        expect(svg).not.toContain(`>${name}<`)
      }
    }
    expect(partDrawing('cut-keys', hb50, 'sheet')).toContain('Places only.')
  })
})

describe('escapeXml', () => {
  it('gives text that XML takes, whatever comes in', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(setter.sets('#let _ = xml(bytes(data))', `<a b="${escapeXml(text)}">${escapeXml(text)}</a>`)).toBe(true)
      }),
      { seed: 4170, numRuns: 50 },
    )
  })
})
