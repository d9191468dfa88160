import type { NamedOrder } from './chart-order-text.ts'
import { type Cell, type MatrixSizes, type Span, shownSpan } from './matrix-geometry.ts'

/** The page's colours, resolved: a canvas knows no custom properties. */
export interface MatrixInks {
  readonly ink: string
  readonly paper: string
  readonly hair: string
  readonly filled: string
  readonly mid: string
}

/** Which key opens which lock, as bits: a row of words for every lock. */
export class OpeningBits {
  readonly #bits: Uint32Array
  readonly #words: number

  constructor({ keys, locks }: NamedOrder) {
    this.#words = Math.ceil(keys.length / 32)
    this.#bits = new Uint32Array(this.#words * locks.length)
    const at = new Map(keys.map((key, i) => [key, i]))
    for (const [lock, { openedBy }] of locks.entries())
      for (const name of openedBy) {
        const key = at.get(name)
        if (key === undefined) continue
        const word = lock * this.#words + (key >>> 5)
        this.#bits[word] = (this.#bits[word] ?? 0) | (1 << (key & 31))
      }
  }

  opens({ lock, key }: Cell): boolean {
    return ((this.#bits[lock * this.#words + (key >>> 5)] ?? 0) & (1 << (key & 31))) !== 0
  }
}

export interface MatrixView {
  readonly width: number
  readonly height: number
  readonly scrollLeft: number
  readonly scrollTop: number
}

/** The rows and columns that show in a view. */
export function spansOf({ keys, locks }: NamedOrder, { cell, left, top }: MatrixSizes, view: MatrixView) {
  return {
    locks: shownSpan({ scroll: view.scrollTop, size: view.height - top, cell, count: locks.length }),
    keys: shownSpan({ scroll: view.scrollLeft, size: view.width - left, cell, count: keys.length }),
  }
}

/** Draws the part of the matrix that shows, and nothing of the rest. */
export function drawMatrix(
  context: CanvasRenderingContext2D,
  {
    order,
    bits,
    sizes,
    view,
    inks,
    cursor,
    isMade,
  }: {
    order: NamedOrder
    bits: OpeningBits
    sizes: MatrixSizes
    view: MatrixView
    inks: MatrixInks
    cursor: Cell
    /** Whether key and lock were both made before: drawn hollow. */
    isMade: (at: Cell) => boolean
  },
): void {
  const { cell, left, top } = sizes
  const { width, height } = view
  const spans = spansOf(order, sizes, view)
  const x = (key: number) => left + key * cell - view.scrollLeft
  const y = (lock: number) => top + lock * cell - view.scrollTop
  const right = Math.min(width, x(order.keys.length))
  const bottom = Math.min(height, y(order.locks.length))
  context.clearRect(0, 0, width, height)
  context.fillStyle = inks.paper
  context.fillRect(0, 0, width, height)

  context.save()
  context.beginPath()
  context.rect(left, top, width - left, height - top)
  context.clip()
  context.globalAlpha = 0.12
  context.fillStyle = inks.ink
  context.fillRect(left, y(cursor.lock), right - left, cell)
  context.fillRect(x(cursor.key), top, cell, bottom - top)
  context.globalAlpha = 1
  grid(context, { spans, x, y, right, bottom, sizes, ink: inks.hair })
  context.fillStyle = inks.filled
  const inset = Math.max(2, cell * 0.2)
  for (let lock = spans.locks.from; lock < spans.locks.to; lock++)
    for (let key = spans.keys.from; key < spans.keys.to; key++)
      if (bits.opens({ lock, key })) {
        context.fillRect(x(key) + inset, y(lock) + inset, cell - 2 * inset, cell - 2 * inset)
        if (isMade({ lock, key })) {
          context.fillStyle = inks.paper
          context.fillRect(x(key) + inset + 2, y(lock) + inset + 2, cell - 2 * inset - 4, cell - 2 * inset - 4)
          context.fillStyle = inks.filled
        }
      }
  context.strokeStyle = inks.ink
  context.lineWidth = 2
  context.strokeRect(x(cursor.key) + 1, y(cursor.lock) + 1, cell - 2, cell - 2)
  context.restore()

  names(context, { order, spans, x, y, sizes, inks, cursor })
  context.strokeStyle = inks.ink
  context.lineWidth = 1
  context.beginPath()
  context.moveTo(left + 0.5, 0)
  context.lineTo(left + 0.5, bottom)
  context.moveTo(0, top + 0.5)
  context.lineTo(right, top + 0.5)
  context.stroke()
}

interface Spans {
  readonly locks: Span
  readonly keys: Span
}
type Place = (index: number) => number

function grid(
  context: CanvasRenderingContext2D,
  {
    spans,
    x,
    y,
    right,
    bottom,
    sizes: { left, top },
    ink,
  }: { spans: Spans; x: Place; y: Place; right: number; bottom: number; sizes: MatrixSizes; ink: string },
): void {
  context.strokeStyle = ink
  context.lineWidth = 1
  context.beginPath()
  for (let lock = spans.locks.from; lock <= spans.locks.to; lock++) {
    context.moveTo(left, Math.round(y(lock)) + 0.5)
    context.lineTo(right, Math.round(y(lock)) + 0.5)
  }
  for (let key = spans.keys.from; key <= spans.keys.to; key++) {
    context.moveTo(Math.round(x(key)) + 0.5, top)
    context.lineTo(Math.round(x(key)) + 0.5, bottom)
  }
  context.stroke()
}

/** Names of locks to the left and of keys on top, standing up. */
function names(
  context: CanvasRenderingContext2D,
  {
    order,
    spans,
    x,
    y,
    sizes: { cell, left, top },
    inks,
    cursor,
  }: {
    order: NamedOrder
    spans: Spans
    x: Place
    y: Place
    sizes: MatrixSizes
    inks: MatrixInks
    cursor: Cell
  },
): void {
  const face = (bold: boolean) => {
    context.font = `${bold ? 600 : 400} 12.5px Barlow, sans-serif`
    context.fillStyle = bold ? inks.ink : inks.mid
  }
  context.textBaseline = 'middle'
  context.textAlign = 'right'
  context.save()
  context.beginPath()
  context.rect(0, top, left - 4, 1e6)
  context.clip()
  for (let lock = spans.locks.from; lock < spans.locks.to; lock++) {
    face(lock === cursor.lock)
    context.fillText(order.locks[lock]?.name ?? '', left - 7, y(lock) + cell / 2, left - 10)
  }
  context.restore()
  context.save()
  context.beginPath()
  context.rect(left, 0, 1e6, top - 4)
  context.clip()
  context.textAlign = 'left'
  for (let key = spans.keys.from; key < spans.keys.to; key++) {
    face(key === cursor.key)
    context.save()
    context.translate(x(key) + cell / 2, top - 7)
    context.rotate(-Math.PI / 2)
    context.fillText(order.keys[key] ?? '', 0, 0, top - 10)
    context.restore()
  }
  context.restore()
}
