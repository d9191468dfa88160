import { describe, expect, it } from 'vitest'
import { partDrawing } from '../part-drawing.ts'
import { changed, reckoned } from '../reckoned.testing.ts'
import { textsOf } from '../written.testing.ts'
import { bodyDrawing } from './body-drawing.ts'

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
