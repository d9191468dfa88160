import { z } from 'zod'
import type { Issue } from '../issue.ts'
import { quantity } from '../quantity.ts'

/** Elements that any formula here asks for or any steel limits, in mass percent. */
export const ELEMENTS = ['C', 'Si', 'Mn', 'P', 'S', 'Ni', 'Cr', 'Mo', 'V', 'Cu', 'W', 'As', 'B'] as const
export type Element = (typeof ELEMENTS)[number]

/** Mass percent of each element; what is not named counts as absent. Carbon is always named. */
export type Composition = { readonly [E in Exclude<Element, 'C'>]?: number | undefined } & { readonly C: number }

/** The name of each element besides carbon, and how much of it a hardenable steel can hold, martensitic stainless steel included. */
const NAMES: Record<Exclude<Element, 'C'>, readonly [title: string, max: number]> = {
  Si: ['Silicon', 3],
  Mn: ['Manganese', 3],
  P: ['Phosphorus', 0.2],
  S: ['Sulfur', 0.4],
  Ni: ['Nickel', 8],
  Cr: ['Chromium', 20],
  Mo: ['Molybdenum', 5],
  V: ['Vanadium', 1],
  Cu: ['Copper', 1],
  W: ['Tungsten', 3],
  As: ['Arsenic', 0.2],
  B: ['Boron', 0.02],
}
const element = (symbol: Exclude<Element, 'C'>) =>
  quantity(symbol, '%', NAMES[symbol][0], { min: 0, max: NAMES[symbol][1] }).optional()

/**
 * The field in which a calculation asks for a composition. The bounds admit what a mill certificate of a hardenable steel can say,
 * stainless steel included; a formula that was fitted to low-alloy steel refuses the rest with `beyondLowAlloy`.
 * @param trusted range of carbon in which the formula behind it was checked
 */
export function compositionField(trusted: readonly [number, number]) {
  return z
    .strictObject({
      C: quantity('C', '%', 'Carbon', { min: 0.01, max: 1.2, trusted }),
      Si: element('Si'),
      Mn: element('Mn'),
      P: element('P'),
      S: element('S'),
      Ni: element('Ni'),
      Cr: element('Cr'),
      Mo: element('Mo'),
      V: element('V'),
      Cu: element('Cu'),
      W: element('W'),
      As: element('As'),
      B: element('B'),
    })
    .meta({ title: 'Composition', description: 'Mass percent; an element left out counts as absent' })
}

/** Above these a steel is not low-alloy any more, mass percent. */
const LOW_ALLOY_UP_TO = [
  ['Ni', 5],
  ['Cr', 5],
  ['Mo', 2],
] as const

/**
 * Why a formula for low-alloy steel does not describe an analysis; empty where it does.
 * @param path of the composition in the caller's input
 */
export function beyondLowAlloy(composition: Composition, path: string): Issue[] {
  return LOW_ALLOY_UP_TO.flatMap(([element, most]): Issue[] => {
    const percent = composition[element] ?? 0
    if (percent <= most) return []
    return [
      {
        path: `${path}.${element}`,
        code: 'out-of-reach',
        message: `The formula was fitted to low-alloy steel and says nothing of steel with so much ${elementName(element).toLowerCase()}: take the figures of the steel's card.`,
        value: percent,
        allowed: `at most ${most} %`,
      },
    ]
  })
}

/** The element's name, for a message. */
export function elementName(element: Element): string {
  return element === 'C' ? 'Carbon' : NAMES[element][0]
}

/** Every element with a number, so that formulas read as they are printed. */
export function complete(composition: Composition): Readonly<Record<Element, number>> {
  return {
    C: composition.C,
    Si: composition.Si ?? 0,
    Mn: composition.Mn ?? 0,
    P: composition.P ?? 0,
    S: composition.S ?? 0,
    Ni: composition.Ni ?? 0,
    Cr: composition.Cr ?? 0,
    Mo: composition.Mo ?? 0,
    V: composition.V ?? 0,
    Cu: composition.Cu ?? 0,
    W: composition.W ?? 0,
    As: composition.As ?? 0,
    B: composition.B ?? 0,
  }
}
