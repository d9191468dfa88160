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
import { weakPlaces } from './parts/weak-places.ts'
import { textsOf } from './written.testing.ts'

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

/** The sizes that the tests below reckon with, so that the demo may change under them. */
const reckoned = changed((d) => {
  const exactly = (nominalMm: number) => ({ nominalMm, plusMm: 0.03, minusMm: 0.03 })
  d.barrel.diameter = exactly(14)
  d.ball.diameter = exactly(8)
  d.body.legAxisToBarrelAxis = exactly(16.9)
  d.shackle.barDiameter = exactly(9)
  d.shackle.insideWidth = exactly(24.8)
  d.shackle.heelLegMm = 70
  d.shackle.toeLegMm = 50
  d.shackle.neutralAxisFactor = 0.46
  d.barrel.recessDepth = exactly(2.72)
  d.body.heelBore.diameter = { nominalMm: 9.25, plusMm: 0.06, minusMm: 0 }
  d.body.widthMm = 50
  d.body.height = exactly(56)
  d.body.thicknessMm = 25
  d.coating.onShackle = { minUm: 26, maxUm: 46 }
  d.coating.inBores = { minUm: 2, maxUm: 12 }
})

/** A strict XML reader: the typesetter's. */
const setter = await typesetter()
const wellFormed = (svgs: readonly string[]) => setter.sets('#for s in data { let _ = xml(bytes(s)) }', svgs)

const boundsOf = (shape: ReturnType<typeof shackleOutline>) => {
  const xs = shape.flatMap((s) => (s[0] === 'Z' ? [] : [s[0] === 'A' ? s[4] : s[1]]))
  const ys = shape.flatMap((s) => (s[0] === 'Z' ? [] : [s[0] === 'A' ? s[5] : s[2]]))
  return { width: Math.max(...xs) - Math.min(...xs), bottom: Math.max(...ys) }
}

/** A design with other sizes, as far as the drawings are concerned. */
function changed(change: (design: Design) => void, from = hb50): Design {
  const copy = structuredClone(from)
  change(copy)
  return copy
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

describe('the body can be made from its drawing alone', () => {
  // Sizes that occur nowhere else, so that each can be counted.
  const design = changed((d) => {
    d.body.barrelBore = { diameter: { nominalMm: 14.05, plusMm: 0.043, minusMm: 0 }, depthMm: 46.1 }
    d.body.heelBore = { diameter: { nominalMm: 9.25, plusMm: 0.06, minusMm: 0 }, depthMm: 42.2 }
    d.body.toeBore = { diameter: { nominalMm: 9.35, plusMm: 0.05, minusMm: 0 }, depthMm: 21.3 }
    d.body.crossBore = { diameter: { nominalMm: 8.2, plusMm: 0.09, minusMm: 0 }, depthMm: 20.4 }
    d.body.crossBoreFromTopMm = 14.5
  }, reckoned)
  const counted = (texts: readonly { text: string }[], pattern: RegExp) =>
    texts.filter(({ text }) => pattern.test(text)).length

  it.each([
    ['sheet', textsOf(bodyDrawing(design))],
    ['card', textsOf(partDrawing('drill-body', design, 'sheet'))],
  ] as const)('on the %s every bore has its size before plating, its finished size and its depth once', (_, texts) => {
    for (const [before, finished, depth] of [
      [/14\.074 … 14\.097/, /14\.05\+|14\.050 … 14\.093/, /^46\.1$/],
      [/9\.274 … 9\.314/, /9\.25\+|9\.250 … 9\.310/, /^42\.2$/],
      [/9\.374 … 9\.404/, /9\.35\+|9\.350 … 9\.400/, /^21\.3$/],
      [/8\.224 … 8\.294/, /8\.2\+|8\.200 … 8\.290/, /20\.4/],
    ] as const)
      expect([counted(texts, before), counted(texts, finished), counted(texts, depth)], String(before)).toEqual([
        1, 1, 1,
      ])
  })

  it('places every axis and gives the outside once: bores from the barrel, cross bores from the top, height, width, thickness', () => {
    const texts = textsOf(bodyDrawing(design))
    for (const size of [/^2 × 16\.9/, /^14\.5$/, /^56.±0\.03$/, /^50$/, /^25$/])
      expect(counted(texts, size), String(size)).toBe(1)
    expect(counted(texts, /middle of the thickness/)).toBe(1)
  })

  it('shows the cross bore as a circle from the side, in its place and size, with centre lines', () => {
    // Side view at 2 : 1 from x 275, top face at y 46: middle at 46 + 29, radius 8.2.
    const svg = bodyDrawing(design)
    expect(svg).toContain('d="M266.8 75A8.2 8.2 0 0 1 283.2 75A8.2 8.2 0 0 1 266.8 75Z"')
    expect(svg).toMatch(/d="M[\d.]+ 75L[\d.]+ 75"[^>]*stroke-dasharray/)
  })
})

describe('the weakest link on the drawing', () => {
  const weak = (change: (design: Design) => void) => weakPlaces(changed(change, reckoned))
  const at = (places: ReturnType<typeof weakPlaces>, load: string) => places.find((place) => place.load === load)

  it('a soft body gives way above the ball, between barrel and leg bore, and its drawing says so', () => {
    const soft = (d: Design) => {
      d.body.yieldMPa = 60
    }
    const pull = at(weak(soft), 'pull')
    expect(pull?.link).toBe('body-wall')
    expect(pull?.at[1]).toBe(hb50.body.crossBoreFromTopMm - 4)
    expect(pull?.at[0]).toBeGreaterThan(7)
    expect(pull?.at[0]).toBeLessThan(16.9 - 4.5)
    // 2 legs · 1.5 · (16.9 − (9.25 + 14.05)/2) · 8 · 60 N, by hand.
    expect(pull?.title).toBe('Pull 7.56\u202fkN')
    const svg = bodyDrawing(changed(soft, reckoned))
    expect(svg).toContain('the ball ploughs into the wall of the body')
    expect(svg).toContain('tests decide')
    expect(bodyDrawing(reckoned)).not.toContain('tests decide')
  })

  it('soft balls are sheared at the face of the leg; a notch near the end shears the end off', () => {
    const balls = at(
      weak((d) => {
        d.ball.tensileMPa = 200
      }),
      'pull',
    )
    expect(balls?.link).toBe('ball-shear')
    expect(balls?.at[0]).toBeCloseTo(16.9 - 4.536, 9)
    const end = at(
      weak((d) => {
        d.shackle.notch.fromToeEndMm = 4.5
      }),
      'pull',
    )
    expect(end?.link).toBe('lip-shear')
    expect(end?.at[1]).toBeGreaterThan(hb50.body.crossBoreFromTopMm)
  })

  it('stands with figure and words on the card of the test and on the shackle, for every load', () => {
    for (const svg of [partDrawing('prove', hb50, 'sheet'), shackleBentDrawing(hb50)]) {
      for (const { title, words } of weakPlaces(hb50)) {
        expect(svg).toContain(title)
        expect(svg).toContain(words)
      }
      expect(svg).toContain('Weakest links by estimate: tests decide.')
    }
    expect(weakPlaces(hb50).map(({ load }) => load)).toEqual(['pull', 'twist', 'cut'])
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
