import { source } from '../source.ts'

/** Worst case and root sum of squares of a chain: tolerances added as sizes or as squares. */
export const stackMethods = source({
  id: 'report.scholz-tolerance-stack',
  status: 'paper',
  citation: 'F. Scholz, Tolerance Stack Analysis Methods, technical report, December 1995',
  place: 'worst case and root sum of squares',
  note: 'Abstract and notation were read: G = Σ aᵢ Lᵢ, tolerances added as sizes or as squares.',
})
