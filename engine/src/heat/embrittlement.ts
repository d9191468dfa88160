import { type SteelName, steels } from '../materials/steels.ts'
import { source } from '../source.ts'

export const embrittlementRanges = source({
  id: 'article.tempering-embrittlement',
  status: 'handbook',
  citation: 'Lecture text on temper embrittlement of steel; article of a precision machining trade association',
  place: 'irreversible embrittlement 250–400 °C; temper embrittlement 375–575 °C',
  note: 'The article puts the lower trough at 200–370 °C, the lecture text the upper at 450–650 °C: the edges depend on the steel.',
})

/** A range of tempering temperatures that costs toughness, and what to do when it cannot be avoided. */
export interface EmbrittlingRange {
  readonly name: string
  readonly minC: number
  readonly maxC: number
  readonly remedy: string
}

/** The ranges that the lecture text gives; their edges depend on the steel. */
const LOW_ALLOY: readonly EmbrittlingRange[] = [
  {
    name: 'Tempered martensite (blue) brittleness',
    minC: 250,
    maxC: 400,
    remedy: 'Temper below or above this range: cooling faster does not help.',
  },
  {
    name: 'Temper embrittlement',
    minC: 375,
    maxC: 575,
    remedy: 'Cool in water or oil from the tempering heat; steels with molybdenum suffer less.',
  },
]

/** What the sheet of a martensitic stainless steel forbids; the ranges of low-alloy steel were not read for it. */
const STAINLESS: readonly EmbrittlingRange[] = [
  {
    name: 'Embrittlement at 475 °C',
    minC: 425,
    maxC: 525,
    remedy: 'Temper below or above this range: cooling faster does not help.',
  },
]

/** The ranges that embrittle a steel; those of low-alloy steel where none is named. */
export function embrittlingOf(steel: SteelName | undefined): readonly EmbrittlingRange[] {
  return steel !== undefined && steels[steel].stainless ? STAINLESS : LOW_ALLOY
}

/** The ranges a tempering temperature lies in; most often none or one. */
export function embrittlingAt(temperatureC: number, steel?: SteelName): readonly EmbrittlingRange[] {
  return embrittlingOf(steel).filter(({ minC, maxC }) => temperatureC >= minC && temperatureC <= maxC)
}

/** As a notice that travels with an answer. */
export function embrittlementNotice(temperatureC: number, { name, minC, maxC, remedy }: EmbrittlingRange): string {
  return `${name}: ${temperatureC.toFixed(0)} °C lies in ${minC} to ${maxC} °C, where toughness in the cold is lost. ${remedy}`
}
