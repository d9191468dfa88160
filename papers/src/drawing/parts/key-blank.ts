import type { Design } from '@haspwright/engine'
import { type Box, fitted } from '../kit/fit.ts'
import { circle, rectangle } from '../kit/shape.ts'
import type { Sheet, View } from '../kit/sheet.ts'
import { stackLength } from './padlock-geometry.ts'

/** A view that fits the whole key into a frame, its tip at the right. */
export function fittedKey(sheet: Sheet, { mechanism }: Design, frame: Box): View {
  const bow = mechanism.discDiameterMm * 1.9
  const length = bow + mechanism.discDiameterMm * 0.5 + stackLength(mechanism) * 1.1
  return fitted(sheet, { x: -length, y: -bow / 2, width: length, height: bow }, frame)
}

/** A key blank from the side, tip at x = 0: bow, shank, and for each disc a place to cut. No cut is shown. */
export function keyBlank(view: View, { mechanism }: Design): void {
  const { discDiameterMm: d, discThicknessMm, spacerThicknessMm, discs } = mechanism
  const shank = d * 0.42
  const stack = stackLength(mechanism)
  const shankLength = stack * 1.1 + d * 0.5
  const bow = (d * 1.9) / 2
  const join = Math.sqrt(bow ** 2 - (shank / 2) ** 2)
  const middle = -shankLength - bow
  view.draw([
    ['M', middle + join, -shank / 2],
    ['L', -shank * 0.3, -shank / 2],
    ['L', 0, -shank * 0.2],
    ['L', 0, shank * 0.2],
    ['L', -shank * 0.3, shank / 2],
    ['L', middle + join, shank / 2],
    ['A', bow, true, true, middle + join, -shank / 2],
    ['Z'],
  ])
  view.draw(circle(middle - bow * 0.35, 0, bow * 0.3))
  for (let i = 0; i < discs; i++) {
    const x = -stack * 1.04 + i * (discThicknessMm + spacerThicknessMm)
    view.draw(rectangle(x, -shank / 2, discThicknessMm, shank), { line: 'hidden', ink: 'mid' })
  }
}
