import { describe, expect, it } from 'vitest'
import { bodySheet } from '../../drawing/drawings/body-drawing.ts'
import { detentSheet } from '../../drawing/drawings/detent-drawing.ts'
import { shackleBentSheet } from '../../drawing/drawings/shackle-drawing.ts'
import { printPalette } from '../../drawing/kit/palette.ts'
import { circle, line, rectangle } from '../../drawing/kit/shape.ts'
import { Sheet } from '../../drawing/kit/sheet.ts'
import { demoDesign } from '../../solid/model.testing.ts'
import { dxfFile } from './dxf-file.ts'
import { LAYERS } from './flatten.ts'

const design = demoDesign('hb50')
const PRINTED = { palette: printPalette }

type Entity = ReadonlyMap<number, string>

/** DXF is pairs of lines, a group code and its value; an entity starts at each code 0. */
function read(text: string) {
  const lines = text.split(/\r?\n/)
  const records: Map<number, string>[] = []
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const [code, value] = [Number(lines[i]), lines[i + 1] ?? '']
    if (code === 0) records.push(new Map())
    const record = records.at(-1)
    if (record !== undefined && !record.has(code)) record.set(code, value)
  }
  const of = (type: string) => records.filter((record) => record.get(0) === type)
  return { lines: of('LINE'), arcs: of('ARC'), texts: of('TEXT'), layers: of('LAYER').map((layer) => layer.get(2)) }
}

const number = (entity: Entity, code: number) => Number(entity.get(code))
const onLayer = (entities: readonly Entity[], layer: string) => entities.filter((entity) => entity.get(8) === layer)

function sheet(draw: (sheet: Sheet) => void) {
  const made = new Sheet({
    width: 100,
    height: 80,
    unit: 'mm',
    palette: printPalette,
    prefix: 't',
    title: 't',
    description: 't',
  })
  draw(made)
  return read(dxfFile(made))
}

describe('a sheet as DXF', () => {
  it('has y up: a line 10 mm under the upper edge stands 10 mm under the upper edge', () => {
    const { lines } = sheet((s) => s.draw(line(5, 10, 45, 10)))
    expect(lines.map((each) => [10, 20, 11, 21].map((code) => number(each, code)))).toEqual([[5, 70, 45, 70]])
  })

  it('cuts away what a filled shape covers, to the points where their outlines meet', () => {
    const { lines } = sheet((s) => {
      s.draw(line(0, 40, 100, 40))
      s.draw(circle(50, 40, 10), { line: 'none', fill: 'sheet' })
    })
    const ends = lines.map((each) => [number(each, 10), number(each, 11)])
    expect(ends).toHaveLength(2)
    expect(ends.flat()).toEqual([0, 40, 60, 100].map((x) => expect.closeTo(x, 6)))
  })

  it('cuts arcs as it cuts lines', () => {
    const { arcs } = sheet((s) => {
      s.draw(circle(50, 40, 10))
      s.draw(rectangle(50, 0, 50, 80), { line: 'none', fill: 'sheet' })
    })
    const total = arcs.reduce((sum, arc) => sum + ((number(arc, 51) - number(arc, 50) + 720) % 360), 0)
    expect(total).toBeCloseTo(180, 6)
  })

  it('hatches inside the outline alone', () => {
    const { lines } = sheet((s) => s.draw(rectangle(20, 20, 30, 10), { fill: 'cut' }))
    const hatch = onLayer(lines, 'HATCH')
    expect(hatch.length).toBeGreaterThan(10)
    for (const each of hatch)
      for (const [x, y] of [
        [10, 20],
        [11, 21],
      ] as const) {
        expect(number(each, x)).toBeGreaterThanOrEqual(20 - 1e-6)
        expect(number(each, x)).toBeLessThanOrEqual(50 + 1e-6)
        expect(number(each, y)).toBeGreaterThanOrEqual(50 - 1e-6)
        expect(number(each, y)).toBeLessThanOrEqual(60 + 1e-6)
      }
  })
})

describe('the drawings of a design as DXF', () => {
  it('keep edges, hidden lines, centre lines, sizes, words and frame on layers of their own', () => {
    const { lines, arcs, texts, layers } = read(dxfFile(bodySheet(design, PRINTED)))
    for (const layer of LAYERS) expect(layers).toContain(layer)
    for (const layer of ['VISIBLE', 'HIDDEN', 'CENTRE', 'DIMENSION', 'HATCH', 'FRAME'])
      expect(onLayer(lines, layer).length, layer).toBeGreaterThan(3)
    for (const entity of [...lines, ...arcs, ...texts]) expect(LAYERS).toContain(entity.get(8))
  })

  it('carry sizes with tolerances, both sizes of a bore, title block and projection', () => {
    const words = read(dxfFile(bodySheet(design, PRINTED))).texts.map((text) => text.get(1))
    expect(words).toContain('%%c9.25')
    expect(words).toContain('+0.06')
    expect(words).toContain('Body, Harbour 50')
    expect(words).toContain('plated ')
    // Barrel bore Ø14.05 +0.043/0 with 2 to 12 µm a face: 14.074 to 14.097 before plating, by hand.
    expect(words.some((word) => word?.startsWith('%%c14.074') && word.endsWith('14.097'))).toBe(true)
    expect(words.some((word) => word?.startsWith('first angle'))).toBe(true)
  })

  it('show the cross bore as a circle from the left, on the right of the front', () => {
    const { arcs } = read(dxfFile(bodySheet(design, PRINTED)))
    // Scale 2 : 1, side view about x = 275, its level 28 mm under the top face, Ø8.2.
    const rims = onLayer(arcs, 'VISIBLE').filter((arc) => Math.abs(number(arc, 40) - 8.2) < 1e-6)
    expect(rims.length).toBeGreaterThan(0)
    for (const rim of rims)
      expect([number(rim, 10), number(rim, 20)]).toEqual([expect.closeTo(275, 6), expect.closeTo(297 - 74, 6)])
  })

  it('show the section without lines inside the bores that run into each other', () => {
    const { lines } = read(dxfFile(bodySheet(design, PRINTED)))
    // Scale 2 : 1, barrel axis of the section at x = 116, top face 46 mm under the edge of A3: the cross bores' axis 28 mm further.
    const crossing = onLayer(lines, 'VISIBLE').filter(
      (each) =>
        number(each, 10) === number(each, 11) &&
        Math.abs(number(each, 10) - 116) < 40 &&
        Math.min(number(each, 20), number(each, 21)) < 297 - 74 &&
        Math.max(number(each, 20), number(each, 21)) > 297 - 74,
    )
    expect(crossing).toEqual([])
  })

  it('have finite numbers alone, and as many edges as the shackle shows', () => {
    for (const made of [shackleBentSheet(design, PRINTED), detentSheet(design, { state: 'released', ...PRINTED })]) {
      const { lines, arcs } = read(dxfFile(made))
      for (const entity of [...lines, ...arcs])
        for (const code of [10, 20, 11, 21, 40, 50, 51])
          if (entity.has(code)) expect(Number.isFinite(number(entity, code))).toBe(true)
    }
    const { arcs } = read(dxfFile(shackleBentSheet(design, PRINTED)))
    // Inside and outside of the bend and two notches; the scale is 2 : 1.
    expect(
      onLayer(arcs, 'VISIBLE')
        .map((arc) => number(arc, 40))
        .filter((radius) => radius > 8),
    ).toEqual(expect.arrayContaining([42.8, 24.8, 8.5, 8.5].map((radius) => expect.closeTo(radius, 6))))
  })
})
