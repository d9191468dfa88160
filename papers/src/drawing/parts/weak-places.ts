import {
  type Design,
  formatQuantity,
  LOADS,
  type Load,
  strengthEstimates,
  type WeakLink,
  weakLinkWords,
} from '@haspwright/engine'
import { circle, type Point } from '../kit/shape.ts'
import type { View } from '../kit/sheet.ts'
import { ballReach, finishedLegRadius, legFace, notchHalfHeight, tangentAboveTop } from './padlock-geometry.ts'

/** Where a lock gives way first under a load, and at how much: an estimate. */
export interface WeakPlace {
  readonly load: Load
  readonly link: WeakLink
  /** In the shut lock: x from the barrel axis, y down from the top face, mm. */
  readonly at: Point
  /** `Pull 23.9 kN`. */
  readonly title: string
  /** `the ball is sheared`. */
  readonly words: string
}

/** Estimates that are known, each with its place on the toe side; the cut on the heel side, so that it stands clear of the others. */
export function weakPlaces(design: Design): readonly WeakPlace[] {
  const estimates = strengthEstimates(design)
  return LOADS.flatMap((load): WeakPlace[] => {
    const estimate = estimates[load]
    if (!estimate.ok) return []
    const figure =
      load === 'twist' ? formatQuantity(estimate.value, 'N·m') : formatQuantity(estimate.value / 1000, 'kN') // N → kN
    return [
      {
        load,
        link: estimate.weakest,
        at: placeOf(design, estimate.weakest),
        title: `${TITLES[load]} ${figure}`,
        words: weakLinkWords[estimate.weakest],
      },
    ]
  })
}

const TITLES: Readonly<Record<Load, string>> = { pull: 'Pull', twist: 'Twist', cut: 'Cut' }

const ESTIMATES_ONLY = 'Weakest links by estimate: tests decide.'

function placeOf(design: Design, link: WeakLink): Point {
  const { body, ball, shackle } = design
  const level = body.crossBoreFromTopMm
  const axis = body.legAxisToBarrelAxis.nominalMm
  const [face, radius] = [legFace(design), ball.diameter.nominalMm / 2]
  const half = notchHalfHeight(design)
  const inNotch = face + shackle.notch.depth.nominalMm / 2
  switch (link) {
    case 'net-section':
      return [axis + shackle.notch.depth.nominalMm / 2, level]
    case 'notch-bearing':
      return [(face + ballReach(design)) / 2, level + half * 0.7]
    case 'ball-shear':
      return [face, level]
    case 'lip-shear':
      return [inNotch, level + (half + shackle.notch.fromToeEndMm) / 2]
    case 'body-wall':
      return [(body.barrelBore.diameter.nominalMm / 2 + face) / 2, level - radius]
    case 'leg-bending':
    case 'leg-shear':
      return [axis, 0]
    case 'leg-cut':
      return [-face - finishedLegRadius(design), -tangentAboveTop(design) / 2]
  }
}

/**
 * Rings the weakest places of a part in a view, each with the first letter of its load, and says beside the part what they mean.
 * @returns the height on the sheet at which the words end
 */
export function drawWeakPlaces(
  view: View,
  places: readonly WeakPlace[],
  list: { readonly x: number; readonly y: number; readonly letters: number },
): number {
  const { sheet } = view
  const { note } = sheet.lettering
  if (places.length === 0) return list.y
  for (const { load, at } of places) {
    const [x, y] = view.at(at)
    sheet.draw(circle(x, y, RING), { weight: 2, fill: 'sheet', role: 'dimension' })
    sheet.text([x, y + note * 0.35], letterOf(load), { face: 'heading', size: note, anchor: 'middle' })
  }
  let y = list.y
  for (const { load, title, words } of places) {
    sheet.text([list.x, y], letterOf(load), { face: 'heading', size: note })
    const whole = `${title}: ${words}`
    const lines = whole.length <= list.letters ? [whole] : [`${title}:`, words]
    for (const [i, text] of lines.entries()) sheet.text([list.x + 5, y + i * LINE * note], text)
    y += (lines.length * LINE + 0.35) * note
  }
  sheet.text([list.x, y], ESTIMATES_ONLY, { ink: 'mid' })
  return y
}

/** From line to line, in sizes of type. */
const LINE = 1.25

const letterOf = (load: Load) => TITLES[load].charAt(0)

/** Radius of the ring about a weak place, mm of paper. */
const RING = 2.8
