import type { Shape } from '../../drawing/kit/shape.ts'
import type { Fill, Look, Mark, ShapeMark, TextMark } from '../../drawing/kit/sheet.ts'
import { cutBy, type Region, regionOf } from './region.ts'
import { along, type Stroke, strokesOf } from './stroke.ts'

export const LAYERS = ['VISIBLE', 'HIDDEN', 'CENTRE', 'PHANTOM', 'DIMENSION', 'HATCH', 'TEXT', 'FRAME'] as const
export type Layer = (typeof LAYERS)[number]

export interface LayeredStroke {
  readonly layer: Layer
  readonly stroke: Stroke
}

/** A drawing without paint: only the lines that are seen, each on its layer, and the texts. */
export interface FlatDrawing {
  readonly strokes: readonly LayeredStroke[]
  readonly texts: readonly TextMark[]
}

/**
 * What is left of a sheet when nothing is painted: a filled shape covers what was drawn before it, so the covered pieces are cut away;
 * a hatched one gets its hatching as lines.
 *
 * @param weight of the sheet's lines, which its hatching is measured in
 */
export function flatten(marks: readonly Mark[], weight: number): FlatDrawing {
  let strokes: LayeredStroke[] = []
  const texts: TextMark[] = []
  for (const mark of marks)
    if (mark.kind === 'text') texts.push(mark)
    else if (mark.kind === 'shape') strokes = [...uncovered(strokes, mark), ...drawn(mark, weight)]
    else {
      const inside = flatten(mark.marks, weight)
      const window = regionOf(mark.window)
      strokes.push(...cutAll(inside.strokes, window, 'inside'))
      texts.push(...inside.texts)
    }
  return { strokes, texts }
}

function uncovered(strokes: readonly LayeredStroke[], { shape, look }: ShapeMark): LayeredStroke[] {
  const { fill = 'none', fillOpacity = 1 } = look
  return fill === 'none' || fillOpacity < 1 ? [...strokes] : cutAll(strokes, regionOf(shape), 'outside')
}

function cutAll(strokes: readonly LayeredStroke[], region: Region, keep: 'inside' | 'outside'): LayeredStroke[] {
  return strokes.flatMap(({ layer, stroke }) => cutBy(stroke, region, keep).map((piece) => ({ layer, stroke: piece })))
}

function drawn({ shape, look }: ShapeMark, weight: number): LayeredStroke[] {
  const lines = look.line === 'none' ? [] : strokesOf(shape).map((stroke) => ({ layer: layerOf(look), stroke }))
  return [...hatching(shape, look.fill ?? 'none', weight), ...lines]
}

function layerOf({ role, line = 'visible' }: Look): Layer {
  if (role === 'dimension') return 'DIMENSION'
  if (role === 'frame') return 'FRAME'
  return ({ visible: 'VISIBLE', hidden: 'HIDDEN', centre: 'CENTRE', ghost: 'PHANTOM', none: 'VISIBLE' } as const)[line]
}

/** Angle and distance of a fill's hatching, in stroke weights, as the sheet's patterns have it. */
const HATCHES: Partial<Record<Fill, readonly [degrees: number, pitch: number]>> = {
  cut: [45, 5.4],
  'cut-other': [-45, 4.32],
  'cut-fine': [-45, 2.43],
  unknown: [45, 4.32],
}

function hatching(shape: Shape, fill: Fill, weight: number): LayeredStroke[] {
  const hatch = HATCHES[fill]
  if (hatch === undefined) return []
  const [degrees, pitch] = hatch
  const region = regionOf(shape)
  const angle = (degrees * Math.PI) / 180
  const [ux, uy] = [Math.cos(angle), Math.sin(angle)]
  const points = region.outline.flatMap((stroke) => [0, 0.25, 0.5, 0.75, 1].map((share) => along(stroke, share)))
  const [alongs, offs] = [points.map(([x, y]) => x * ux + y * uy), points.map(([x, y]) => y * ux - x * uy)]
  const [low, high] = [Math.min(...alongs), Math.max(...alongs)]
  const step = pitch * weight
  const lines: LayeredStroke[] = []
  for (let off = Math.ceil(Math.min(...offs) / step) * step; off < Math.max(...offs); off += step) {
    const at = (way: number) => [way * ux - off * uy, way * uy + off * ux] as const
    const stroke: Stroke = { kind: 'line', from: at(low - 1), to: at(high + 1) }
    lines.push(...cutBy(stroke, region, 'inside').map((piece) => ({ layer: 'HATCH' as const, stroke: piece })))
  }
  return lines
}
