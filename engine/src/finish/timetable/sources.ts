import { source } from '../../source.ts'

export const phillipsUnger = source({
  id: 'paper.phillips-unger-1976',
  status: 'paper',
  citation:
    'L. W. Phillips, P. S. Unger, Mathematical programming solution of a hoist scheduling program, AIIE Transactions 8 (1976) 219–225',
  place: 'the line of 12 tanks',
  note: 'Data and the optimal period of 521 s read in the data set of Wallace and Yorke-Smith, Constraints 25 (2020). Model: loaded moves hold lift, travel and lower; every pair of moves keeps the empty travel between them; one load in a tank; the carrier is back at the first move a period later.',
})

export const rodosekWallace = source({
  id: 'paper.rodosek-wallace-1998',
  status: 'paper',
  citation:
    'R. Rodošek, M. Wallace, A generic model and hybrid algorithm for hoist scheduling problems, CP98, LNCS 1520; test case singHoist2 of an open constraint-language test suite',
  place: 'period 25, removals at 0, 14, 43 and 57 of one load',
  note: 'The published timetable lowers a load into tank 2 at the very moment at which the load before leaves it, which takes two places there; with one place the least period of this line is 36.',
})

export const cyclicScheduling = source({
  id: 'method.cyclic-difference-constraints',
  status: 'from memory (unverified)',
  citation:
    'Branch and bound over the order of moves with longest paths in a graph of differences and the largest ratio of its cycles; the approach of H. Chen, C. Chu, J.-M. Proth, IEEE Transactions on Robotics and Automation 14 (1998) 144–152',
  note: 'The method is recalled; what it gives is checked against published optima, complete enumeration and an integer program.',
})
