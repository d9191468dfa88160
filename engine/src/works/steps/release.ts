import { stated } from '../ask.ts'
import { handTime, type StepPlanner } from './step.ts'

/** Holds every requirement against what was measured and signs; codes leave apart from the locks. */
export const release: StepPlanner = ({ minutesPerPiece }) => ({
  instruction:
    'Hold every row of the margins sheet against what was measured; sign or hold back. Codes and locks leave by different ways.',
  settings: [
    stated('Certificate', 'margins sheet with measured values, signed'),
    stated('Codes', 'handed over apart from the locks, against signature'),
  ],
  time: handTime(minutesPerPiece, 'locks'),
  record: ['Rows without a measured value', 'Released by, on', 'Codes handed to'],
  findings: [],
})
