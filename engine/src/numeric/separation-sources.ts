import { source } from '../source.ts'

/** Sources that the rooms for codes and for the mechanism share. */
export const openingModel = source({
  id: 'practice.gate-opening-model',
  status: 'common practice (no source)',
  citation:
    'Normal error of each gate, one turn common to all discs, steady or rocked within a play: a probability model of the disc and sidebar mechanism',
  note: 'The model is stated in full with the calculation; its integrals are checked against published tables of the normal range.',
})

export const brouwerTables = source({
  id: 'table.brouwer-code-bounds',
  status: 'paper',
  citation: 'A. E. Brouwer, tables of bounds for q-ary codes',
  place: 'rule d = 2: q^(n−1) words',
  note: 'One check value, a congruence, reaches it.',
})
