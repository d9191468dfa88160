import type { Design } from '@haspwright/engine'
import type { Sheet } from '../kit/sheet.ts'

/** A picture on a job card: as wide as the card's text. */
export const CARD = { width: 180, height: 100 } as const

/** Draws a part large, with dimensions; gives the line under it: scale, and what the sizes are. */
export type CardPicture = (sheet: Sheet, design: Design) => string

/** A table of short lines: words left, figures right. */
export function smallTable(
  sheet: Sheet,
  { x, y, columns }: { x: number; y: number; columns: readonly number[] },
  rows: readonly (readonly string[])[],
): void {
  const step = 5.6
  const width = columns.reduce((sum, column) => sum + column, 0)
  rows.forEach((row, r) => {
    const base = y + r * step
    let left = x
    row.forEach((cell, c) => {
      const column = columns[c] ?? 0
      const first = c === 0
      sheet.text([first ? left : left + column, base], cell, {
        face: r === 0 || first ? 'label' : 'figure',
        anchor: first ? 'start' : 'end',
        ink: r === 0 ? 'mid' : 'ink',
      })
      left += column
    })
    sheet.draw(
      [
        ['M', x, base + 1.5],
        ['L', x + width, base + 1.5],
      ],
      { ink: r === 0 ? 'ink' : 'hair' },
    )
  })
}
