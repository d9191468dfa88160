import type { Source } from '../source.ts'
import {
  DELTA_UM,
  DEVIATION_STEPS_MM,
  deviationSource,
  HOLE_J_UM,
  SHAFT_DEVIATIONS_UM,
  SHAFT_J_UM,
  TOLERANCE_STEPS_MM,
  TOLERANCES_UM,
} from './limits-and-fits-table.ts'

/** Limit deviations of a hole or a shaft from its nominal size, µm. */
export interface Limits {
  readonly upperUm: number
  readonly lowerUm: number
  /** Where the fundamental deviation was read; a remembered one has the status to match. */
  readonly source: Source
}

/** Why a tolerance class has no limits at a size, and what would have. */
export interface NoLimits {
  readonly problem: string
  readonly known: string
}

const SHAFT_LETTERS = [...Object.keys(SHAFT_DEVIATIONS_UM), 'j', 'js'].sort()
/** Grades as they are written, finest first; an object would sort its whole-number keys to the front. */
const GRADES = ['01', '0', ...Array.from({ length: 18 }, (_, i) => `${i + 1}`)]

/** Which size step a size falls in: over the one before, up to and including. */
export function stepOf(steps: readonly number[], nominalMm: number): number {
  return steps.findIndex((upTo) => nominalMm <= upTo)
}

/** `H7` → letter and grade; `undefined` when it is not written like a class of holes (capitals) or of shafts (small letters). */
function classParts(written: string, kind: 'hole' | 'shaft'): { letter: string; grade: string } | undefined {
  const [, letters = '', grade = ''] = /^([A-Za-z]{1,2})(01|[0-9]{1,2})$/.exec(written) ?? []
  const letter = letters.toLowerCase()
  const right = kind === 'hole' ? letters === letters.toUpperCase() : letters === letter
  return right && SHAFT_LETTERS.includes(letter) && GRADES.includes(grade) ? { letter, grade } : undefined
}

/**
 * Limit deviations of a tolerance class of ISO 286 at a nominal size over 0 and up to 500 mm.
 *
 * Shafts: a to h give the upper limit, j to zc the lower one, and the grade the other. Holes mirror the shaft of the same
 * letter; K, M and N up to grade 8 and P to ZC up to grade 7 are moved by Δ, so that H7/p6 and P7/h6 fit alike.
 */
export function limitsOf(written: string, kind: 'hole' | 'shaft', nominalMm: number): Limits | NoLimits {
  const parts = classParts(written, kind)
  if (parts === undefined) return unknownClass(kind)
  const { letter, grade } = parts
  const coarse = stepOf(TOLERANCE_STEPS_MM, nominalMm)
  const fine = stepOf(DEVIATION_STEPS_MM, nominalMm)
  const tolerance = TOLERANCES_UM[grade]?.[coarse]
  if (tolerance === undefined) return { problem: 'Sizes over 500 mm are not in these tables', known: 'up to 500 mm' }
  if (nominalMm <= 1 && Number(grade) >= 14)
    return { problem: `Grade ${grade} is not defined up to 1 mm`, known: 'grades 01 to 13 up to 1 mm' }
  if (nominalMm <= 1 && (letter === 'a' || letter === 'b'))
    return { problem: `${written[0]} is not defined up to 1 mm`, known: kind === 'hole' ? 'C to ZC' : 'c to zc' }
  const source = deviationSource(kind === 'hole' && letter === 'j' ? 'J' : letter, nominalMm)
  if (letter === 'js') return { upperUm: tolerance / 2, lowerUm: -tolerance / 2, source }
  const fixed = (kind === 'hole' ? fixedOfHole : fixedOfShaft)({
    letter,
    grade: Number(grade),
    coarse,
    fine,
    nominalMm,
  })
  if (typeof fixed === 'string') return { problem: `${written} is not tabulated at ${nominalMm} mm`, known: fixed }
  const [upperUm, lowerUm] =
    'upper' in fixed ? [fixed.upper, fixed.upper - tolerance] : [fixed.lower + tolerance, fixed.lower]
  return { upperUm: clean(upperUm), lowerUm: clean(lowerUm), source }
}

interface Place {
  readonly letter: string
  readonly grade: number
  readonly coarse: number
  readonly fine: number
  readonly nominalMm: number
}
type Fixed = { readonly upper: number } | { readonly lower: number } | string

const BELOW = ['a', 'b', 'c', 'cd', 'd', 'e', 'ef', 'f', 'fg', 'g', 'h']

function fixedOfShaft({ letter, grade, coarse, fine, nominalMm }: Place): Fixed {
  if (letter === 'j') {
    const lower = SHAFT_J_UM[grade]?.[coarse]
    return lower === undefined ? 'j5, j6 and j7; j8 up to 3 mm' : { lower }
  }
  // k is above the line in grades 4 to 7 only.
  if (letter === 'k' && (grade < 4 || grade > 7)) return { lower: 0 }
  const size = SHAFT_DEVIATIONS_UM[letter]?.[fine]
  if (size === undefined || size === null) return tabulated(letter, nominalMm)
  return BELOW.includes(letter) ? { upper: -size } : { lower: size }
}

function fixedOfHole({ letter, grade, coarse, fine, nominalMm }: Place): Fixed {
  if (letter === 'j') {
    const upper = HOLE_J_UM[grade]?.[coarse]
    return upper === undefined ? 'J6, J7 and J8' : { upper }
  }
  const size = SHAFT_DEVIATIONS_UM[letter]?.[fine]
  if (size === undefined || size === null) return tabulated(letter, nominalMm, letter.toUpperCase())
  if (BELOW.includes(letter)) return { lower: size }
  const delta = DELTA_UM[grade]?.[coarse] ?? 0
  if (letter === 'k') return grade <= 8 ? { upper: delta - size } : nominalMm <= 3 ? { upper: 0 } : 'K up to K8'
  // The one exception that the standard prints: M6 over 250 up to 315 mm is −9, not −20 + 9.
  if (letter === 'm')
    return { upper: grade === 6 && nominalMm > 250 && nominalMm <= 315 ? -9 : grade <= 8 ? delta - size : -size }
  if (letter === 'n')
    return grade <= 8 ? { upper: delta - size } : nominalMm <= 1 ? 'N up to N8' : { upper: nominalMm <= 3 ? -size : 0 }
  return { upper: grade <= 7 ? delta - size : -size }
}

function unknownClass(kind: 'hole' | 'shaft'): NoLimits {
  const letters = SHAFT_LETTERS.join(', ')
  return kind === 'hole'
    ? {
        problem: 'This is not a tolerance class of holes',
        known: `${letters.toUpperCase()} with a grade 01 to 18, as in H7`,
      }
    : { problem: 'This is not a tolerance class of shafts', known: `${letters} with a grade 01 to 18, as in g6` }
}

/** Which sizes a letter is tabulated for, where it is not for all. */
function tabulated(letter: string, nominalMm: number, written = letter): string {
  const row = SHAFT_DEVIATIONS_UM[letter] ?? []
  const steps = DEVIATION_STEPS_MM.filter((_, i) => typeof row[i] === 'number')
  const last = steps.at(-1) ?? 0
  if (nominalMm > last) return `${written} up to ${last} mm`
  const before = DEVIATION_STEPS_MM[DEVIATION_STEPS_MM.indexOf(steps[0] ?? 3) - 1] ?? 0
  return `${written} over ${before} mm`
}

/** No minus before a zero. */
const clean = (n: number) => (n === 0 ? 0 : n)
