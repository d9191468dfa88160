import type { Design } from '../design.ts'
import { limitsOf } from '../dimension.ts'
import { type ChainCase, coatingTerm, term } from './chain-terms.ts'
import { boreOfLeg, type NamedDimension } from './detent-chains.ts'

/** The tighter of the two shackle bores. */
function tighterBore(design: Design): NamedDimension {
  const [toe, heel] = [boreOfLeg(design, 'toe'), boreOfLeg(design, 'heel')]
  return limitsOf(toe[1]).minMm < limitsOf(heel[1]).minMm ? toe : heel
}

/** Bore − leg, both over their coating, in the tighter of the two bores unless one is named. */
export function legClearanceChain(design: Design, [name, diameter]: NamedDimension = tighterBore(design)): ChainCase {
  const { body, shackle, coating } = design
  return {
    contributors: [
      term(name, diameter, 1, body.material),
      term('Shackle bar diameter', shackle.barDiameter, -1, shackle.steel),
      coatingTerm('Coating on the shackle', coating.onShackle, -2),
    ],
    levers: [{ contributor: name, phrase: `Open the ${name.toLowerCase()}` }],
  }
}

export function barrelClearanceChain({ body, barrel }: Design): ChainCase {
  return {
    contributors: [
      term('Barrel bore diameter', body.barrelBore.diameter, 1, body.material),
      term('Barrel diameter', barrel.diameter, -1, barrel.material),
    ],
    levers: [{ contributor: 'Barrel bore diameter', phrase: 'Open the barrel bore' }],
  }
}

/**
 * Plain fits that the design names beside those of the detent: disc in barrel, sidebar in its slot. A covered face takes its coating
 * twice: the hole closes by it, the shaft grows by it.
 */
export function fitChains({ fits = [] }: Design): { readonly fit: PlainFit; readonly chain: ChainCase }[] {
  return fits.map((fit) => ({
    fit,
    chain: {
      contributors: [
        term(`${fit.name}, hole`, fit.hole, 1, fit.holeMaterial),
        term(`${fit.name}, shaft`, fit.shaft, -1, fit.shaftMaterial),
        ...(fit.holeCoating === undefined
          ? []
          : [coatingTerm(`${fit.name}, coating in the hole`, fit.holeCoating, -2)]),
        ...(fit.shaftCoating === undefined
          ? []
          : [coatingTerm(`${fit.name}, coating on the shaft`, fit.shaftCoating, -2)]),
      ],
      levers: [{ contributor: `${fit.name}, hole`, phrase: `Open the hole of the ${fit.name.toLowerCase()}` }],
    },
  }))
}
type PlainFit = NonNullable<Design['fits']>[number]
