import type { Design } from '@haspwright/engine'
import { arc, circle, onDial, type Point, polyline, type Shape } from '../kit/shape.ts'
import type { View } from '../kit/sheet.ts'
import { rimWithGate } from '../sheets/mechanism.ts'

/** Where everything stands while the key is turned. */
export interface BarrelState {
  /** How far the gate of each disc stands from the sidebar, degrees, positive clockwise. */
  readonly gatesDeg: readonly number[]
  /** The disc that is drawn whole, from 0; the others show their gates behind it. */
  readonly front: number
  /** How far the key is turned, degrees. */
  readonly keyDeg: number
  /** Whether the sidebar has dropped into the gates. */
  readonly dropped: boolean
}

/** Sizes of the section, mm. How far the sidebar reaches into the body is drawn freely: a design does not hold it. */
export interface SectionSizes {
  readonly disc: number
  readonly barrel: number
  readonly bore: number
  /** Radius of the floor of a gate. */
  readonly floor: number
  /** Length of the sidebar along the radius: dropped, it is flush with the barrel. */
  readonly sidebar: number
  /** Radius up to which the body is shown. */
  readonly body: number
}

export function sectionSizes({ mechanism, barrel, body }: Design): SectionSizes {
  const disc = mechanism.discDiameterMm / 2
  const outer = Math.max(barrel.diameter.nominalMm / 2, disc * 1.02)
  const bore = Math.max(body.barrelBore.diameter.nominalMm / 2, outer)
  const { floor } = rimWithGate(mechanism, 0)
  const sidebar = outer - disc + (disc - floor) * 0.85
  return { disc, barrel: outer, bore, floor, sidebar, body: disc + sidebar + (outer - disc) + disc * 0.12 }
}

/** Body, barrel, one disc with its gate, the gates behind it, sidebar and key, seen from the key's end. */
export function drawTurningBarrel(view: View, design: Design, state: BarrelState): void {
  const { mechanism } = design
  const sizes = sectionSizes(design)
  const half = mechanism.sidebarWidth.nominalMm / 2
  view.draw(bodyRing(sizes, half), { fill: 'cut' })
  view.draw(barrelRing(sizes, half), { fill: 'cut-other' })
  const front = state.gatesDeg[state.front] ?? 0
  view.draw(rimWithGate(mechanism, front).outline, { fill: 'sheet' })
  for (const [disc, angle] of state.gatesDeg.entries())
    if (disc !== state.front && Math.abs(angle - front) > 0.01)
      view.draw(notch(mechanism.gateWidth.nominalMm / 2, sizes, angle), { line: 'hidden', ink: 'mid' })
  drawKey(view, sizes.disc, state.keyDeg)
  drawSidebar(view, sizes, { half, dropped: state.dropped })
}

/** The half window of a gate to either side of its middle, as an arc where it is measured. */
export function drawWindow(view: View, { mechanism }: Design, { gateDeg, halfDeg }: WindowArc): void {
  const radius = mechanism.gateRadiusMm
  view.draw(arc(0, 0, radius, gateDeg - halfDeg, gateDeg + halfDeg), { ink: 'holds', weight: 3 })
  for (const end of [gateDeg - halfDeg, gateDeg + halfDeg])
    view.draw(polyline([onDial(0, 0, radius * 0.96, end), onDial(0, 0, radius * 1.04, end)]), { ink: 'holds' })
}
interface WindowArc {
  readonly gateDeg: number
  readonly halfDeg: number
}

/** The outline of the body cut across, with the groove that the sidebar locks into. */
function bodyRing({ body, bore, disc, sidebar }: SectionSizes, half: number): Shape {
  const angle = angleOf(half, bore)
  const top = disc + sidebar + (bore - disc) * 0.1
  return [
    ...circle(0, 0, body),
    ['M', ...onDial(0, 0, bore, -angle)],
    ['A', bore, true, false, ...onDial(0, 0, bore, angle)],
    ['L', half, -top],
    ['L', -half, -top],
    ['Z'],
  ]
}

/** The barrel cut across, open where the sidebar slides. */
function barrelRing({ barrel, disc }: SectionSizes, half: number): Shape {
  const [outer, inner] = [angleOf(half, barrel), angleOf(half, disc)]
  return [
    ['M', ...onDial(0, 0, barrel, outer)],
    ['A', barrel, true, true, ...onDial(0, 0, barrel, -outer)],
    ['L', ...onDial(0, 0, disc, -inner)],
    ['A', disc, true, false, ...onDial(0, 0, disc, inner)],
    ['Z'],
  ]
}

/** Flanks and floor of a gate that stands behind the drawn disc. */
function notch(half: number, { disc, floor }: SectionSizes, degrees: number): Shape {
  const rim = Math.sqrt(Math.max(0, disc * disc - half * half))
  const place = (across: number, out: number): Point => {
    const [ox, oy] = onDial(0, 0, out, degrees)
    const [ax, ay] = onDial(0, 0, across, degrees + 90)
    return [ox + ax, oy + ay]
  }
  return polyline([place(-half, rim), place(-half, floor), place(half, floor), place(half, rim)])
}

/** Resting on the rims it reaches into the body and locks; dropped into the gates it is flush with the barrel. */
function drawSidebar(
  view: View,
  { disc, barrel, sidebar }: SectionSizes,
  { half, dropped }: { half: number; dropped: boolean },
): void {
  const bottom = dropped ? barrel - sidebar : disc
  view.draw(
    polyline(
      [
        [-half, -bottom],
        [half, -bottom],
        [half, -bottom - sidebar],
        [-half, -bottom - sidebar],
      ],
      true,
    ),
    { fill: dropped ? 'holds' : 'cut-fine', fillOpacity: dropped ? 0.55 : 1 },
  )
}

/** The key in the discs' hole, drawn freely; the stroke points where the key started upright. */
function drawKey(view: View, disc: number, degrees: number): void {
  const hole = disc * 0.42
  view.draw(circle(0, 0, hole), { fill: 'sheet' })
  const [a, b] = [onDial(0, 0, hole * 0.94, degrees + 52), onDial(0, 0, hole * 0.94, degrees - 52)]
  view.draw([['M', ...a], ['A', hole * 0.94, true, true, ...b], ['Z']], { fill: 'cut' })
  view.draw(polyline([onDial(0, 0, hole * 0.58, degrees), onDial(0, 0, hole * 1.16, degrees)]))
}

const angleOf = (half: number, radius: number) => (Math.asin(Math.min(1, half / radius)) * 180) / Math.PI
