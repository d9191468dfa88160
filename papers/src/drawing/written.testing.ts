/** What a drawing says and where, read back from its SVG: boxes of text and straight lines, in its own units. */
export interface WrittenText {
  readonly text: string
  readonly size: number
  readonly box: Box
}
export interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}
type Segment = readonly [x1: number, y1: number, x2: number, y2: number]

/** Mean advance of a letter in sizes of type, by family. */
const ADVANCES: readonly (readonly [family: string, advance: number])[] = [
  ['Mono', 0.6],
  ['Condensed', 0.43],
  ['', 0.52],
]
/** Capitals and figures above the line, in sizes of type. */
const TALL = 0.7

const attribute = (tag: string, name: string) => new RegExp(` ${name}="([^"]*)"`).exec(tag)?.[1]
const number = (tag: string, name: string, otherwise = 0) => Number(attribute(tag, name) ?? otherwise)
const plain = (text: string) => text.replace(/&(amp|lt|gt|quot|#39);/g, '.')

/** Every line of text of a drawing with the box that it fills on the paper. */
export function textsOf(svg: string): WrittenText[] {
  return [...svg.matchAll(/<text([^>]*)>(.*?)<\/text>/g)].map(([, tag = '', inner = '']) => {
    const size = number(tag, 'font-size')
    const advance = ADVANCES.find(([family]) => (attribute(tag, 'font-family') ?? '').includes(family))?.[1] ?? 0.6
    let [along, baseline, smallest, right, top, bottom] = [0, 0, size, 0, -TALL * size, 0]
    for (const [, run, words = '', bare = ''] of inner.matchAll(/<tspan([^>]*)>([^<]*)<\/tspan>|([^<]+)/g)) {
      const runSize = run === undefined ? size : number(run, 'font-size', size)
      along += run === undefined ? 0 : number(run, 'dx')
      baseline += run === undefined ? 0 : number(run, 'dy')
      along += plain(words + bare).length * advance * runSize
      smallest = Math.min(smallest, runSize)
      right = Math.max(right, along)
      top = Math.min(top, baseline - TALL * runSize)
      bottom = Math.max(bottom, baseline)
    }
    const anchor = attribute(tag, 'text-anchor')
    const start = anchor === 'middle' ? -right / 2 : anchor === 'end' ? -right : 0
    const [x, y] = [number(tag, 'x'), number(tag, 'y')]
    const box = tag.includes('rotate(-90')
      ? { left: x + top, right: x + bottom, top: y - start - right, bottom: y - start }
      : { left: x + start, right: x + start + right, top: y + top, bottom: y + bottom }
    return { text: plain(inner.replace(/<[^>]+>/g, '')), size: smallest, box }
  })
}

/** Straight lines of a drawing that have ink. */
export function linesOf(svg: string): Segment[] {
  // What stands in a window is cut off at its edge; no words stand there.
  const open = svg.replace(/<defs>.*?<\/defs>|<g clip-path.*?<\/g>/gs, '')
  return [...open.matchAll(/<path([^>]*)>/g)]
    .filter(([, tag = '']) => attribute(tag, 'stroke') !== 'none')
    .flatMap(([, tag = '']) => straight(attribute(tag, 'd') ?? ''))
}

function straight(d: string): Segment[] {
  const found: Segment[] = []
  let [x, y, startX, startY] = [0, 0, 0, 0]
  for (const [, letter, rest = ''] of d.matchAll(/([MLAZ])([^MLAZ]*)/g)) {
    const numbers = (rest.match(/-?[\d.]+/g) ?? []).map(Number)
    const [toX, toY] = letter === 'Z' ? [startX, startY] : [numbers.at(-2) ?? 0, numbers.at(-1) ?? 0]
    if (letter === 'L' || letter === 'Z') found.push([x, y, toX, toY])
    if (letter === 'M') [startX, startY] = [toX, toY]
    ;[x, y] = [toX, toY]
  }
  return found
}

/** How far two boxes lie over each other, the smaller way; negative apart. */
export function overlap(a: Box, b: Box): number {
  return Math.min(
    Math.min(a.right, b.right) - Math.max(a.left, b.left),
    Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top),
  )
}

/** Whether a line runs through a box, its edge left alone. */
export function runsThrough([x1, y1, x2, y2]: Segment, { left, right, top, bottom }: Box, edge: number): boolean {
  const [l, r, t, b] = [left + edge, right - edge, top + edge, bottom - edge]
  if (l >= r || t >= b) return false
  let [from, to] = [0, 1]
  for (const [start, way, low, high] of [
    [x1, x2 - x1, l, r],
    [y1, y2 - y1, t, b],
  ] as const) {
    if (Math.abs(way) < 1e-9) {
      if (start <= low || start >= high) return false
      continue
    }
    const [a, c] = [(low - start) / way, (high - start) / way]
    from = Math.max(from, Math.min(a, c))
    to = Math.min(to, Math.max(a, c))
  }
  return from < to
}
