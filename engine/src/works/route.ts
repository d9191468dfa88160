import { z } from 'zod'
import { choice, quantity, text } from '../quantity.ts'

/** The steps a padlock goes through, in the only order that makes sense; a design's route is a selection of them. */
export const OPERATIONS = [
  'cut-bar',
  'drill-body',
  'bend-shackle',
  'notch-shackle',
  'harden',
  'clean',
  'nickel',
  'chromium',
  'relief-bake',
  'cut-keys',
  'build',
  'close',
  'prove',
  'release',
] as const
export type OperationKind = (typeof OPERATIONS)[number]

/** What each step is called on the page, on a card and in a list. */
export const operationTitles: Readonly<Record<OperationKind, string>> = {
  'cut-bar': 'Cut bar',
  'drill-body': 'Drill body',
  'bend-shackle': 'Bend shackle',
  'notch-shackle': 'Notch',
  harden: 'Harden, temper',
  clean: 'Clean',
  nickel: 'Nickel',
  chromium: 'Chromium',
  'relief-bake': 'Relief bake',
  'cut-keys': 'Keys',
  build: 'Build',
  close: 'Close',
  prove: 'Prove',
  release: 'Release',
}

export const operationSchema = z
  .strictObject({
    operation: choice('Operation', OPERATIONS, operationTitles),
    workCentre: text('Work centre', { max: 60 }),
    setupMinutes: quantity(null, 'min', 'Set-up', { min: 0, max: 10_000 }),
    minutesPerPiece: quantity(null, 'min', 'Hand time a piece, where nothing computes it', {
      min: 0,
      max: 1000,
    }).optional(),
  })
  .meta({ title: 'Operation' })
export type RouteOperation = z.output<typeof operationSchema>

/** Steps that a replacement key goes through: no lock is made. */
export const KEY_STEPS: ReadonlySet<OperationKind> = new Set(['cut-keys', 'release'])

/** Operations that must be over before another starts. Sealing is final, so every trial comes before it. */
export const MUST_FOLLOW: readonly (readonly [before: OperationKind, after: OperationKind, because: string])[] = [
  ['cut-bar', 'drill-body', 'a body is drilled from a cut block'],
  ['cut-bar', 'bend-shackle', 'a shackle is bent from a cut blank'],
  ['bend-shackle', 'notch-shackle', 'bending would close a notch cut before it'],
  ['notch-shackle', 'harden', 'hardened steel is not notched'],
  ['bend-shackle', 'harden', 'hardened steel cracks when bent'],
  ['harden', 'clean', 'scale from the furnace comes off in the cleaning line'],
  ['clean', 'nickel', 'nickel peels from a surface that is not clean'],
  ['nickel', 'chromium', 'chromium goes on nickel'],
  ['nickel', 'relief-bake', 'hydrogen is baked out after the last bath'],
  ['chromium', 'relief-bake', 'hydrogen is baked out after the last bath'],
  ['cut-keys', 'build', 'a stack is tried with its own key'],
  ['build', 'close', 'own key and wrong keys are tried before the lock is sealed for good'],
  ['relief-bake', 'close', 'an unbaked shackle must not be sealed in'],
  ['close', 'prove', 'the finished lock is proved'],
  ['prove', 'release', 'a lot is released on what was proved'],
]
