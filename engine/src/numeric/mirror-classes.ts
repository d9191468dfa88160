import type { Condition, Panel } from './laplace-boundary.ts'

/** Panels that carry the same flux, because the boundary is its own mirror image. */
export interface MirrorClasses {
  /** The class of each panel, from 0. */
  readonly classOf: Int32Array
  /** One panel of each class. */
  readonly first: readonly number[]
}

/** Two middles this far apart, of the size of the boundary, are one: far under the length of any panel, far over rounding. */
const SAME_PLACE = 1e-9

/**
 * Classes of panels under the mirrors about the upright and the level middle line of the boundary. A mirror counts only where every
 * panel has an image of its length with its condition; without one each panel is a class of its own.
 */
export function mirrorClasses(panels: readonly Panel[]): MirrorClasses {
  const xs = panels.flatMap(({ from, to }) => [from.x, to.x])
  const ys = panels.flatMap(({ from, to }) => [from.y, to.y])
  const twiceX = Math.min(...xs) + Math.max(...xs)
  const twiceY = Math.min(...ys) + Math.max(...ys)
  const tolerance = SAME_PLACE * Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys))
  const middles = panels.map(middleOf)
  const images = [
    imagesOf(panels, middles, { mirrored: ({ x, y, length }) => ({ x: twiceX - x, y, length }), tolerance }),
    imagesOf(panels, middles, { mirrored: ({ x, y, length }) => ({ x, y: twiceY - y, length }), tolerance }),
  ].filter((image) => image !== undefined)
  const classOf = new Int32Array(panels.length).fill(-1)
  const first: number[] = []
  for (let start = 0; start < panels.length; start++) {
    if ((classOf[start] ?? 0) >= 0) continue
    const open = [start]
    for (let panel = open.pop(); panel !== undefined; panel = open.pop()) {
      if ((classOf[panel] ?? 0) >= 0) continue
      classOf[panel] = first.length
      open.push(...images.map((image) => image[panel] ?? start))
    }
    first.push(start)
  }
  return { classOf, first }
}

interface Middle {
  readonly x: number
  readonly y: number
  readonly length: number
}

function middleOf({ from, to }: Panel): Middle {
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2, length: Math.hypot(to.x - from.x, to.y - from.y) }
}

interface Mirror {
  readonly mirrored: (middle: Middle) => Middle
  readonly tolerance: number
}

/** The image of every panel, or `undefined` where one has none. */
function imagesOf(
  panels: readonly Panel[],
  middles: readonly Middle[],
  { mirrored, tolerance }: Mirror,
): readonly number[] | undefined {
  const images: number[] = []
  for (const [k, middle] of middles.entries()) {
    const wanted = mirrored(middle)
    // Outlines mirrored run backwards: the image is most often the one before the last found.
    const next = (images.at(-1) ?? 0) - 1
    const image = isAt(middles[next], wanted, tolerance)
      ? next
      : middles.findIndex((each) => isAt(each, wanted, tolerance))
    if (image < 0 || !same(panels[image]?.condition, panels[k]?.condition)) return undefined
    images.push(image)
  }
  return images
}

function isAt(own: Middle | undefined, { x, y, length }: Middle, tolerance: number): boolean {
  if (own === undefined) return false
  const away = Math.max(Math.abs(own.x - x), Math.abs(own.y - y), Math.abs(own.length - length))
  return away <= tolerance
}

function same(a: Condition | undefined, b: Condition | undefined): boolean {
  if (a?.kind === 'potential') return b?.kind === 'potential' && a.value === b.value
  if (a?.kind === 'polarized') return b?.kind === 'polarized' && a.length === b.length
  return a?.kind === b?.kind
}
