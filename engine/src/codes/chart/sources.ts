import { source } from '../../source.ts'

export const levelPractice = source({
  id: 'practice.key-levels',
  status: 'common practice (no source)',
  citation: 'Master keys by levels: each level varies discs of its own, all other discs stay as the master has them',
})

export const largestUnderMaster = source({
  id: 'paper.cernoch-2016',
  status: 'from memory (unverified)',
  citation:
    'R. Černoch, O. Kuželka, F. Železný, Polynomial and Extensible Solutions in Lock-Chart Solving, Applied Artificial Intelligence 30 (2016) 923–941: largest chart under one general key; the largest set without order in a product of stars is one of equal weight (Sperner, LYM)',
  note: 'Only the abstract was read. The count C(n, t) · (q − 1)^t at the best t is recalled, and agrees with complete enumeration of small charts.',
})

export const rightsAmplification = source({
  id: 'paper.blaze-2003',
  status: 'from memory (unverified)',
  citation:
    'M. Blaze, Rights Amplification in Master-Keyed Mechanical Locks, IEEE Security & Privacy 1(2) (2003): from one key and its lock the master is found disc by disc, with one blank a disc and at most discs · (values − 1) trials',
  note: 'Only the abstract was read. It is why the chart tells how many unlisted codes open a lock: a lock under a master is not safe from its own user.',
})
