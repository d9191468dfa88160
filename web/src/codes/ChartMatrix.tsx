import { useEffect, useMemo, useRef, useState } from 'react'
import type { NamedOrder } from './chart-order-text.ts'
import { drawMatrix, type MatrixInks, type MatrixView, OpeningBits, spansOf } from './matrix-drawing.ts'
import { type Cell, type MatrixSizes, movedCursor, scrollShowing, spokenSpan } from './matrix-geometry.ts'

const SIZES: MatrixSizes = { cell: 20, left: 150, top: 118 }
const EMPTY: MatrixView = { width: 0, height: 0, scrollLeft: 0, scrollTop: 0 }
/** Rows and columns of the table that is read out, and how long the view rests before it is made anew, ms. */
const SPOKEN = 12
const REST_MS = 180

/**
 * Who opens what: locks down, keys across, a filled square where a key opens a lock. Only what shows is drawn, on a canvas as large as
 * the window on it; the same part stands in a table for who cannot see it.
 */
export function ChartMatrix({ order, made }: { order: NamedOrder; made: NamedOrder }) {
  const scroller = useRef<HTMLElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const bits = useMemo(() => new OpeningBits(order), [order])
  const isMade = useMemo(() => madeBefore(order, made), [order, made])
  const [wanted, setCursor] = useState<Cell>({ lock: 0, key: 0 })
  const [locks, keys] = [order.locks.length, order.keys.length]
  const cursor = {
    lock: Math.max(0, Math.min(wanted.lock, locks - 1)),
    key: Math.max(0, Math.min(wanted.key, keys - 1)),
  }
  const view = useMatrixView(scroller, canvas, (context, shown, inks) =>
    drawMatrix(context, { order, bits, sizes: SIZES, view: shown, inks, cursor, isMade }),
  )
  if (locks === 0) return null

  const go = (next: Cell) => {
    setCursor(next)
    const box = scroller.current
    if (box === null) return
    const { cell, left, top } = SIZES
    box.scrollTop = scrollShowing(next.lock, { scroll: box.scrollTop, size: box.clientHeight - top, cell })
    box.scrollLeft = scrollShowing(next.key, { scroll: box.scrollLeft, size: box.clientWidth - left, cell })
  }
  const page = Math.max(1, Math.floor((view.height - SIZES.top) / SIZES.cell) - 1)
  return (
    <section className="chart-matrix" aria-labelledby="matrix">
      <div className="section-head">
        <h2 id="matrix">Who opens what</h2>
        <small>
          locks down, keys across{made.locks.length > 0 ? ' · hollow: made before, filled: new' : ''} · arrow keys move
          the cursor, with Ctrl to the end
        </small>
      </div>
      <p className="matrix-cursor" role="status">
        {cursorWords(order, bits, cursor)}
        {made.locks.length === 0 ? '' : isMade(cursor) ? ' Both were made before.' : ' New with this order.'}
      </p>
      <section
        ref={scroller}
        className="matrix-scroll"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls and has a cursor must be reachable by keyboard
        tabIndex={0}
        aria-label={`Matrix of ${locks} locks and ${keys} keys; arrow keys move the cursor`}
        onKeyDown={(event) => {
          const next = movedCursor(cursor, {
            stroke: event.key,
            far: event.ctrlKey || event.metaKey,
            page,
            locks,
            keys,
          })
          if (next === undefined) return
          event.preventDefault()
          go(next)
        }}
        onPointerDown={(event) => {
          const box = scroller.current?.getBoundingClientRect()
          if (box === undefined || scroller.current === null) return
          const [x, y] = [event.clientX - box.left - SIZES.left, event.clientY - box.top - SIZES.top]
          if (x < 0 || y < 0) return
          const key = Math.floor((x + scroller.current.scrollLeft) / SIZES.cell)
          const lock = Math.floor((y + scroller.current.scrollTop) / SIZES.cell)
          if (key < keys && lock < locks) setCursor({ lock, key })
        }}
      >
        <div
          style={{ width: SIZES.left + keys * SIZES.cell + 1, height: SIZES.top + locks * SIZES.cell + 1 }}
          aria-hidden="true"
        >
          <canvas ref={canvas} className="matrix-canvas" />
        </div>
      </section>
      <div className="visually-hidden">
        <SpokenPart order={order} bits={bits} cursor={cursor} view={view} isMade={isMade} />
      </div>
    </section>
  )
}

/** Tells whether key and lock of a place were both made before. */
function madeBefore(order: NamedOrder, made: NamedOrder): (at: Cell) => boolean {
  const [keyNames, lockNames] = [new Set(made.keys), new Set(made.locks.map(({ name }) => name))]
  const keys = order.keys.map((key) => keyNames.has(key))
  const locks = order.locks.map(({ name }) => lockNames.has(name))
  return ({ lock, key }) => keys[key] === true && locks[lock] === true
}

function cursorWords({ keys, locks }: NamedOrder, bits: OpeningBits, cursor: Cell): string {
  return `Key ${keys[cursor.key]} ${bits.opens(cursor) ? 'opens' : 'does not open'} lock ${locks[cursor.lock]?.name}.`
}

/** The part of the matrix about the cursor, as a table to be read out. */
function SpokenPart({
  order,
  bits,
  cursor,
  view,
  isMade,
}: {
  order: NamedOrder
  bits: OpeningBits
  cursor: Cell
  view: MatrixView
  isMade: (at: Cell) => boolean
}) {
  const spans = spansOf(order, SIZES, view)
  const rows = spokenSpan(cursor.lock, spans.locks, SPOKEN)
  const columns = spokenSpan(cursor.key, spans.keys, SPOKEN)
  const indices = ({ from, to }: { from: number; to: number }) => Array.from({ length: to - from }, (_, i) => from + i)
  return (
    <table>
      <caption>
        Locks {rows.from + 1} to {rows.to} of {order.locks.length}, keys {columns.from + 1} to {columns.to} of{' '}
        {order.keys.length}
      </caption>
      <thead>
        <tr>
          <th scope="col">Lock</th>
          {indices(columns).map((key) => (
            <th key={key} scope="col">
              {order.keys[key]}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {indices(rows).map((lock) => (
          <tr key={lock}>
            <th scope="row">{order.locks[lock]?.name}</th>
            {indices(columns).map((key) => (
              <td key={key}>
                {bits.opens({ lock, key }) ? (isMade({ lock, key }) ? 'opens, made before' : 'opens') : 'no'}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/**
 * Keeps the canvas as large as the window on it and draws it with every scroll, once a frame, without asking the page to render.
 *
 * @returns the view as it stood when it last came to rest
 */
function useMatrixView(
  scroller: { readonly current: HTMLElement | null },
  canvas: { readonly current: HTMLCanvasElement | null },
  draw: (context: CanvasRenderingContext2D, view: MatrixView, inks: MatrixInks) => void,
): MatrixView {
  const [rested, setRested] = useState(EMPTY)
  const latest = useRef(draw)
  const asked = useRef<() => void>(undefined)
  useEffect(() => {
    latest.current = draw
    asked.current?.()
  })
  useEffect(() => {
    const [box, sheet] = [scroller.current, canvas.current]
    const context = sheet?.getContext('2d')
    if (box === null || sheet === null || context === null || context === undefined) return
    let frame: number | undefined
    let rest: ReturnType<typeof setTimeout> | undefined
    const paint = () => {
      frame = undefined
      const { clientWidth: width, clientHeight: height, scrollLeft, scrollTop } = box
      const density = window.devicePixelRatio || 1
      const [wide, high] = [Math.round(width * density), Math.round(height * density)]
      if (sheet.width !== wide || sheet.height !== high) {
        sheet.width = wide
        sheet.height = high
        sheet.style.width = `${width}px`
        sheet.style.height = `${height}px`
      }
      context.setTransform(density, 0, 0, density, 0, 0)
      latest.current(context, { width, height, scrollLeft, scrollTop }, inksOf(sheet))
      clearTimeout(rest)
      rest = setTimeout(() => setRested({ width, height, scrollLeft, scrollTop }), REST_MS)
    }
    const ask = () => {
      frame ??= requestAnimationFrame(paint)
    }
    asked.current = ask
    ask()
    const sizes = new ResizeObserver(ask)
    sizes.observe(box)
    const light = new MutationObserver(ask)
    light.observe(document.documentElement, { attributeFilter: ['data-light'] })
    const dark = matchMedia('(prefers-color-scheme: dark)')
    box.addEventListener('scroll', ask, { passive: true })
    dark.addEventListener('change', ask)
    void document.fonts.ready.then(ask)
    return () => {
      if (frame !== undefined) cancelAnimationFrame(frame)
      clearTimeout(rest)
      sizes.disconnect()
      light.disconnect()
      box.removeEventListener('scroll', ask)
      dark.removeEventListener('change', ask)
    }
  }, [scroller, canvas])
  return rested
}

/** The style sheet gives the canvas the page's colours in properties it does not otherwise use. */
function inksOf(sheet: HTMLCanvasElement): MatrixInks {
  const { color, backgroundColor, borderTopColor, outlineColor, caretColor } = getComputedStyle(sheet)
  return { ink: color, paper: backgroundColor, hair: borderTopColor, filled: outlineColor, mid: caretColor }
}
