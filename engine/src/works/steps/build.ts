import { keyCodesAreSecret, sealingIsFinal } from '../../caution.ts'
import { stated } from '../ask.ts'
import { handTime, type StepPlanner } from './step.ts'

/** Builds the disc stacks and tries each lock, open, with its own key and the wrong keys nearest to it. */
export const build: StepPlanner = ({ design, minutesPerPiece }) => {
  const { discs, values, discThicknessMm, spacerThicknessMm } = design.mechanism
  return {
    instruction:
      'Pick the discs of one lock by its stack list, disc by disc; load with spacers; turn with the own key; try the named wrong keys. Mark as tried.',
    settings: [
      stated('Discs in a lock', discs, ''),
      stated('Spacers in a lock', discs - 1, ''),
      stated('Kinds of disc at hand', values, ''),
      stated('Length of the stack', discs * discThicknessMm + (discs - 1) * spacerThicknessMm, 'mm'),
      stated('Barrel length', design.barrel.lengthMm, 'mm'),
    ],
    time: handTime(minutesPerPiece, 'locks'),
    record: ['Stack confirmed disc by disc', 'Own key turns', 'Try-list keys refused', 'Built by'],
    cautions: [keyCodesAreSecret, sealingIsFinal],
    findings: [],
  }
}
