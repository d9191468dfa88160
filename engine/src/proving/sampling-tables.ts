import { source } from '../source.ts'

/** Single sampling by attributes, as the master tables print it: an arrow points to the row whose plan is used instead. */
export const samplingTables = source({
  id: 'mil-std-105e.single',
  status: 'standard',
  citation:
    'MIL-STD-105E (1989, public domain) tables I, II-A, II-B and II-C; ISO 2859-1 has the same normal and tightened single plans',
  note: 'Read in the data of a public statistics package. Reduced plans are those of 105E, with a gap between acceptance and rejection that ISO 2859-1:1999 closed. Where reduced letters A, B and C share the sample of 2, the arrows between them are from memory; the plans are not.',
})

export const LEVELS = ['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] as const
export type Level = (typeof LEVELS)[number]

export const SEVERITIES = ['normal', 'tightened', 'reduced'] as const
export type Severity = (typeof SEVERITIES)[number]

/** Percent nonconforming up to 10; above, nonconformities per hundred items. */
export const AQLS = [
  0.01, 0.015, 0.025, 0.04, 0.065, 0.1, 0.15, 0.25, 0.4, 0.65, 1, 1.5, 2.5, 4, 6.5, 10, 15, 25, 40, 65, 100, 150, 250,
  400, 650, 1000,
] as const

/** Upper end of each class of lot size; the last has none. */
const LOT_CLASSES = [
  8,
  15,
  25,
  50,
  90,
  150,
  280,
  500,
  1200,
  3200,
  10000,
  35000,
  150000,
  500000,
  Number.POSITIVE_INFINITY,
]

/** Code letter by class of lot size, for each level in the order of `LEVELS`. */
const CODE_LETTERS = [
  'AAAAAAB',
  'AAAAABC',
  'AABBBCD',
  'ABBCCDE',
  'BBCCCEF',
  'BBCDDFG',
  'BCDEEGH',
  'BCDEFHJ',
  'CCEFGJK',
  'CDEGHKL',
  'CDFGJLM',
  'CDFHKMN',
  'DEGJLNP',
  'DEGJMPQ',
  'DEHKNQR',
]

/** Letters in the order of their samples; S serves tightened inspection only. */
const LETTERS = 'ABCDEFGHJKLMNPQRS'
const SAMPLES: Readonly<Record<Severity, readonly number[]>> = {
  normal: [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000],
  tightened: [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150],
  reduced: [2, 2, 2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800],
}

/** Acceptance numbers by letter and AQL; `v` and `^` are the arrows; `1/3` accepts at 1 and rejects at 3. */
const NORMAL = {
  A: 'v v v v v v v  v  v  v  v  v  v  v  0  v  v  1  2  3  5  7 10 14 21 30',
  B: 'v v v v v v v  v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44',
  C: 'v v v v v v v  v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44  ^',
  D: 'v v v v v v v  v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44  ^  ^',
  E: 'v v v v v v v  v  v  v  0  ^  v  1  2  3  5  7 10 14 21 30 44  ^  ^  ^',
  F: 'v v v v v v v  v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^',
  G: 'v v v v v v v  v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^',
  H: 'v v v v v v v  0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^',
  J: 'v v v v v v 0  ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  K: 'v v v v v 0 ^  v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  L: 'v v v v 0 ^ v  1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  M: 'v v v 0 ^ v 1  2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  N: 'v v 0 ^ v 1 2  3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  P: 'v 0 ^ v 1 2 3  5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  Q: '0 ^ v 1 2 3 5  7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  R: '^ ^ 1 2 3 5 7 10 14 21  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
}
const TIGHTENED = {
  A: 'v v v v v v v v  v  v  v  v  v  v  v  v  v  v  1  2  3  5  8 12 18 27',
  B: 'v v v v v v v v  v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41',
  C: 'v v v v v v v v  v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41  ^',
  D: 'v v v v v v v v  v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41  ^  ^',
  E: 'v v v v v v v v  v  v  v  0  v  v  1  2  3  5  8 12 18 27 41  ^  ^  ^',
  F: 'v v v v v v v v  v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^',
  G: 'v v v v v v v v  v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^',
  H: 'v v v v v v v v  0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^',
  J: 'v v v v v v v 0  v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  K: 'v v v v v v 0 v  v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  L: 'v v v v v 0 v v  1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  M: 'v v v v 0 v v 1  2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  N: 'v v v 0 v v 1 2  3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  P: 'v v 0 v v 1 2 3  5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  Q: 'v 0 v v 1 2 3 5  8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  R: '0 ^ v 1 2 3 5 8 12 18  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
  S: '^ ^ 1 ^ ^ ^ ^ ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^  ^',
}
const REDUCED = {
  A: 'v v v v v v v v v v v v v v 0 v v 1 2 3 5 7 10 14 21 30',
  B: 'v v v v v v v v v v v v v 0 ^ v 0/2 1/3 2/4 3/5 5 7 10 14 21 30',
  C: 'v v v v v v v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^',
  D: 'v v v v v v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^ ^',
  E: 'v v v v v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 14/17 21/24 ^ ^ ^',
  F: 'v v v v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^',
  G: 'v v v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^',
  H: 'v v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^',
  J: 'v v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^',
  K: 'v v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  L: 'v v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  M: 'v v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  N: 'v v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  P: 'v 0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  Q: '0 ^ v 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
  R: '^ ^ 0/2 1/3 1/4 2/5 3/6 5/8 7/10 10/13 ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^ ^',
}
const CELLS: Readonly<Record<Severity, Readonly<Record<string, string>>>> = {
  normal: NORMAL,
  tightened: TIGHTENED,
  reduced: REDUCED,
}

/** The code letter of a lot of two or more. */
export function codeLetter(lotSize: number, level: Level): string {
  const lotClass = LOT_CLASSES.findIndex((upTo) => lotSize <= upTo)
  return CODE_LETTERS[lotClass]?.charAt(LEVELS.indexOf(level)) ?? ''
}

export interface SinglePlan {
  readonly letter: string
  readonly sampleSize: number
  readonly accept: number
  readonly reject: number
}

/**
 * The plan at a code letter and AQL, arrows followed.
 * @throws if the table has no such letter or AQL, or an arrow leads out of it: a fault of the table
 */
export function planAt(severity: Severity, letter: string, aql: number): SinglePlan {
  const column = (AQLS as readonly number[]).indexOf(aql)
  let row = LETTERS.indexOf(letter)
  for (;;) {
    const at = LETTERS.charAt(row)
    const cell = CELLS[severity][at]?.trim().split(/ +/)[column]
    const sampleSize = SAMPLES[severity][row]
    if (cell === undefined || sampleSize === undefined)
      throw new Error(`The ${severity} sampling table has no cell at ${letter}, ${aql}`)
    if (cell === 'v' || cell === '^') row += cell === 'v' ? 1 : -1
    else {
      const [accept = Number.NaN, reject = accept + 1] = cell.split('/').map(Number)
      return { letter: at, sampleSize, accept, reject }
    }
  }
}
