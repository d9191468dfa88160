import type { OperationKind } from '@haspwright/engine'
import { cutBarCard } from './bar.ts'
import { DRILL_CARD_HEIGHT, drillBodyCard } from './body.ts'
import { cleanCard, platingCard } from './coating.ts'
import { CARD, type CardPicture } from './frame.ts'
import { hardenCard, reliefBakeCard } from './heat.ts'
import { closeCard, PROVE_CARD_HEIGHT, proveCard, releaseCard } from './lock.ts'
import { buildCard, cutKeysCard } from './mechanism.ts'
import { bendShackleCard, notchShackleCard } from './shackle.ts'

/** The large drawing of each step, with sizes. */
export const cardPictures: Readonly<Record<OperationKind, CardPicture>> = {
  'cut-bar': cutBarCard,
  'drill-body': drillBodyCard,
  'bend-shackle': bendShackleCard,
  'notch-shackle': notchShackleCard,
  harden: hardenCard,
  clean: cleanCard,
  nickel: platingCard('nickel'),
  chromium: platingCard('chromium'),
  'relief-bake': reliefBakeCard,
  'cut-keys': cutKeysCard,
  build: buildCard,
  close: closeCard,
  prove: proveCard,
  release: releaseCard,
}

/** Most cards are of one height; two carry more than fits it. */
const HEIGHTS: Readonly<Partial<Record<OperationKind, number>>> = {
  'drill-body': DRILL_CARD_HEIGHT,
  prove: PROVE_CARD_HEIGHT,
}

export function cardSize(operation: OperationKind): { readonly width: number; readonly height: number } {
  return { ...CARD, height: HEIGHTS[operation] ?? CARD.height }
}
