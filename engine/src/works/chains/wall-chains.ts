import type { Design } from '../design.ts'
import { type ChainCase, term } from './chain-terms.ts'

/** The three walls of a drilled body. */
export function wallChains({
  body,
}: Design): { readonly key: string; readonly title: string; readonly chain: ChainCase }[] {
  const steel = body.material
  const axis = term('Barrel axis to leg axis', body.legAxisToBarrelAxis, 1, steel)
  const heel = term('Heel bore diameter', body.heelBore.diameter, -0.5, steel)
  const barrel = term('Barrel bore diameter', body.barrelBore.diameter, -0.5, steel)
  const half = (name: string, nominalMm: number) => term(name, { nominalMm, plusMm: 0, minusMm: 0 }, 0.5, steel)
  return [
    {
      key: 'between',
      title: 'Wall between barrel and shackle bore',
      chain: {
        contributors: [axis, heel, barrel],
        levers: [{ contributor: axis.name, phrase: 'Move the shackle bores outward: barrel axis to leg axis' }],
      },
    },
    {
      key: 'side',
      title: 'Wall from shackle bore to the side',
      chain: {
        contributors: [half('Body width', body.widthMm), { ...axis, sensitivity: -1 }, heel],
        levers: [{ contributor: axis.name, phrase: 'Move the shackle bores inward: barrel axis to leg axis' }],
      },
    },
    {
      key: 'face',
      title: 'Wall from barrel bore to the face',
      chain: {
        contributors: [half('Body thickness', body.thicknessMm), barrel],
        levers: [{ contributor: 'Body thickness', phrase: 'Take a thicker bar: body thickness' }],
      },
    },
  ]
}
