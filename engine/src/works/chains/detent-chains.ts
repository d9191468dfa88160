import type { Design } from '../design.ts'
import { type Dimension, limitsOf } from '../dimension.ts'
import { type ChainCase, type Contributor, coatingTerm, negated, term } from './chain-terms.ts'

/** Barrel, ball and leg: how far the ball reaches into the leg, R + d − (C − r). */
function ballReach({ barrel, ball, body, shackle, coating }: Design): Contributor[] {
  return [
    term('Barrel diameter', barrel.diameter, 0.5, barrel.material),
    term('Ball diameter', ball.diameter, 1, ball.material),
    term('Barrel axis to leg axis', body.legAxisToBarrelAxis, -1, body.material),
    term('Shackle bar diameter', shackle.barDiameter, 0.5, shackle.steel),
    coatingTerm('Coating on the shackle', coating.onShackle, 1),
  ]
}

/** e = R + d − (C − r) − f, with the float f = (bore − 2r)/2 of the leg in its bore. */
export function engagementChain(design: Design, bore: NamedDimension = looserBore(design)): ChainCase {
  const doubled = new Set(['Shackle bar diameter', 'Coating on the shackle']) // r stands in the reach and, once more, in the float
  const reach = ballReach(design).map((part) =>
    doubled.has(part.name) ? { ...part, sensitivity: 2 * part.sensitivity } : part,
  )
  return {
    contributors: [...reach, term(...bore, -0.5, design.body.material)],
    levers: [
      {
        contributor: 'Barrel axis to leg axis',
        phrase: 'Bring the shackle bores closer to the barrel: barrel axis to leg axis',
      },
    ],
  }
}

export type NamedDimension = readonly [name: string, diameter: Dimension]

/** The bore that one leg stands in. */
export function boreOfLeg({ body }: Design, leg: 'toe' | 'heel'): NamedDimension {
  return leg === 'toe' ? ['Toe bore diameter', body.toeBore.diameter] : ['Heel bore diameter', body.heelBore.diameter]
}

/** The bore in which a notched leg floats most: toe alone, or the wider of the two where both legs are held. */
function looserBore(design: Design): NamedDimension {
  const { shackle } = design
  const [toe, heel] = [boreOfLeg(design, 'toe'), boreOfLeg(design, 'heel')]
  return shackle.notch.legs === 'both' && limitsOf(heel[1]).maxMm > limitsOf(toe[1]).maxMm ? heel : toe
}

/** Locked engagement at nominal sizes, mm. */
export function engagementMm(design: Design): number {
  return engagementChain(design).contributors.reduce(
    (sum, { nominalMm, sensitivity }) => sum + nominalMm * sensitivity,
    0,
  )
}

/** h − (R + d − (C − r)): the notch must take the ball, or the barrel binds. */
export function jamChain(design: Design): ChainCase {
  return {
    contributors: [
      term('Notch depth', design.shackle.notch.depth, 1, design.shackle.steel),
      ...negated(ballReach(design)),
    ],
    levers: [{ contributor: 'Notch depth', phrase: 'Deepen the notch' }],
  }
}

/** p − (R + d − (C − r)): the recess must let the ball sink clear of the leg, or the shackle drags. */
export function releaseChain(design: Design): ChainCase {
  return {
    contributors: [
      term('Barrel recess depth', design.barrel.recessDepth, 1, design.barrel.material),
      ...negated(ballReach(design)),
    ],
    levers: [{ contributor: 'Barrel recess depth', phrase: 'Deepen the barrel recess' }],
  }
}
