import type { OperationKind } from '@haspwright/engine'
import { cutBarCard } from './bar.ts'
import { drillBodyCard } from './body.ts'
import { cleanCard, platingCard } from './coating.ts'
import type { CardPicture } from './frame.ts'
import { hardenCard, reliefBakeCard } from './heat.ts'
import { closeCard, proveCard, releaseCard } from './lock.ts'
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
