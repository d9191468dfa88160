/** Sizes of the matrix, px: a cell, the names of locks on its left, the names of keys above it. */
export interface MatrixSizes {
  readonly cell: number
  readonly left: number
  readonly top: number
}

/** A stretch of rows or columns, from the first to before the last. */
export interface Span {
  readonly from: number
  readonly to: number
}

/** The rows or columns that show in a window of `size` px, scrolled by `scroll`. */
export function shownSpan({
  scroll,
  size,
  cell,
  count,
}: {
  scroll: number
  size: number
  cell: number
  count: number
}): Span {
  const from = Math.max(0, Math.min(count, Math.floor(scroll / cell)))
  return { from, to: Math.max(from, Math.min(count, Math.ceil((scroll + Math.max(0, size)) / cell))) }
}

/** The scroll nearest to the present one in which a row or column shows as a whole. */
export function scrollShowing(at: number, { scroll, size, cell }: { scroll: number; size: number; cell: number }) {
  if (at * cell < scroll) return at * cell
  if ((at + 1) * cell > scroll + size) return Math.max(0, (at + 1) * cell - size)
  return scroll
}

/** A place in the matrix: lock by row, key by column. */
export interface Cell {
  readonly lock: number
  readonly key: number
}

/** Where a key stroke takes the cursor; `undefined` for a stroke that means nothing here. */
export function movedCursor(
  { lock, key }: Cell,
  { stroke, far, page, locks, keys }: { stroke: string; far: boolean; page: number; locks: number; keys: number },
): Cell | undefined {
  const to = (newLock: number, newKey: number): Cell => ({
    lock: Math.max(0, Math.min(locks - 1, newLock)),
    key: Math.max(0, Math.min(keys - 1, newKey)),
  })
  switch (stroke) {
    case 'ArrowUp':
      return to(far ? 0 : lock - 1, key)
    case 'ArrowDown':
      return to(far ? locks : lock + 1, key)
    case 'ArrowLeft':
      return to(lock, far ? 0 : key - 1)
    case 'ArrowRight':
      return to(lock, far ? keys : key + 1)
    case 'PageUp':
      return to(lock - page, key)
    case 'PageDown':
      return to(lock + page, key)
    case 'Home':
      return to(far ? 0 : lock, 0)
    case 'End':
      return to(far ? locks : lock, keys)
    default:
      return undefined
  }
}

/** The part that is read out instead of seen: about the cursor, within what shows. */
export function spokenSpan(at: number, { from, to }: Span, most: number): Span {
  const start = Math.max(from, Math.min(at - Math.floor(most / 2), to - most))
  return { from: start, to: Math.min(to, start + most) }
}
