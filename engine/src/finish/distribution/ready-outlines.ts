import type { Section } from './section.ts'

/**
 * Ready-made cuts through what a rack holds, level with the tank's floor and square to the legs: anodes along both long walls, the
 * parts of one place of the rack in the middle, and half the pitch of the rack above and below, where the mirror of the insulating
 * wall stands for the neighbours. The parts count as long as the bath is deep: the bow and the ends of the legs are not in the cut.
 */
interface RackPlace {
  readonly anodeToAnodeMm: number
  readonly pitchMm: number
}

const tank = ({ anodeToAnodeMm, pitchMm }: RackPlace) => ({
  tankWidthMm: anodeToAnodeMm,
  tankHeightMm: pitchMm,
  walls: (['left', 'right'] as const).map((side) => ({ side, fromMm: 0, toMm: pitchMm, role: 'anode' as const })),
})

/** The two legs of a shackle, side by side along the rack. */
export function shackleSection(
  place: RackPlace,
  { barDiameterMm, insideWidthMm }: { barDiameterMm: number; insideWidthMm: number },
): Section {
  const apart = (insideWidthMm + barDiameterMm) / 2
  const [xMm, middle] = [place.anodeToAnodeMm / 2, place.pitchMm / 2]
  return {
    ...tank(place),
    circles: [middle - apart, middle + apart].map((yMm) => ({ role: 'part', xMm, yMm, diameterMm: barDiameterMm })),
    rectangles: [],
  }
}

/** A lock body across its height, its broad face to the anodes; bores draw little current and are left out. */
export function bodySection(
  place: RackPlace,
  { widthMm, thicknessMm, edgeRadiusMm }: { widthMm: number; thicknessMm: number; edgeRadiusMm: number },
): Section {
  return {
    ...tank(place),
    circles: [],
    rectangles: [
      {
        role: 'part',
        xMm: place.anodeToAnodeMm / 2,
        yMm: place.pitchMm / 2,
        widthMm: thicknessMm,
        heightMm: widthMm,
        cornerRadiusMm: edgeRadiusMm,
      },
    ],
  }
}
