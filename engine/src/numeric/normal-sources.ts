import { source } from '../source.ts'

/** How much of a normal distribution lies within so many standard deviations. */
export const normalCoverage = source({
  id: 'table.normal-coverage',
  status: 'handbook',
  citation: 'Normal distribution, share within 1, 2 and 3 standard deviations, encyclopaedia article read in a copy',
  place: '68.27, 95.45 and 99.73 %',
})
