import { type Design, OPERATIONS } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import railyard from '../../../demo/designs/ry40.json' with { type: 'json' }
import { samplePlan } from '../sample-plan.testing.ts'
import {
  barLayoutDrawing,
  barrelDrawing,
  bodyDrawing,
  detentDrawing,
  discStackDrawing,
  partDrawing,
  shackleBentDrawing,
  shackleBlankDrawing,
} from './index.ts'
import { linesOf, overlap, runsThrough, textsOf } from './written.testing.ts'

const designs = [harbour, railyard] as unknown as readonly Design[]

const drawings: readonly (readonly [name: string, svg: string])[] = [
  ...designs.flatMap((design): (readonly [string, string])[] => [
    [`${design.id} body`, bodyDrawing(design)],
    [`${design.id} blank`, shackleBlankDrawing(design)],
    [`${design.id} bent`, shackleBentDrawing(design)],
    [`${design.id} barrel`, barrelDrawing(design)],
    [`${design.id} stack`, discStackDrawing(design)],
    [`${design.id} locked`, detentDrawing(design, { state: 'locked' })],
    [`${design.id} released`, detentDrawing(design, { state: 'released', coldC: -40, coldMm: 0.046 })],
    ...OPERATIONS.map((step) => [`${design.id} ${step}`, partDrawing(step, design, 'sheet')] as const),
  ]),
  ...samplePlan.barCutting.map((cutting) => [`bars ${cutting.form}`, barLayoutDrawing(cutting)] as const),
]

describe('a drawing can be read', () => {
  it.each(drawings)('%s: no letter is lower than 2.5 mm, and nothing runs off the sheet', (_, svg) => {
    const [, width = 0, height = 0] = (/viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? []).map(Number)
    for (const { text, size, box } of textsOf(svg)) {
      expect(size * 0.7, text).toBeGreaterThanOrEqual(2.5)
      expect(Math.min(box.left, box.top, width - box.right, height - box.bottom), text).toBeGreaterThan(0)
    }
  })

  it.each(drawings)('%s: no words stand on each other', (_, svg) => {
    const texts = textsOf(svg)
    const clashes = texts.flatMap((a, i) =>
      texts.slice(i + 1).flatMap((b) => (overlap(a.box, b.box) > 0.2 ? [`${a.text} | ${b.text}`] : [])),
    )
    expect(clashes).toEqual([])
  })

  it.each(drawings)('%s: no line runs through words', (_, svg) => {
    const lines = linesOf(svg)
    // A single letter stands in a ring of its own ground.
    const words = textsOf(svg).filter(({ text }) => text.length > 1)
    const struck = words.filter(({ box }) => lines.some((line) => runsThrough(line, box, 0.45)))
    expect(struck.map(({ text }) => text)).toEqual([])
  })
})

describe('a drawing on a page 1280 px wide', () => {
  it('an A3 sheet over the whole width has no letter below 11 px', () => {
    for (const design of designs) {
      const svg = bodyDrawing(design)
      const [, width = 0] = (/viewBox="0 0 ([\d.]+)/.exec(svg) ?? []).map(Number)
      const pixelsPerMm = 1170 / width
      for (const { text, size } of textsOf(svg)) expect(size * pixelsPerMm, text).toBeGreaterThanOrEqual(11)
    }
  })
})
