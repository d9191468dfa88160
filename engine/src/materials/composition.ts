import { z } from 'zod'
import { quantity } from '../quantity.ts'

/** Elements that any formula here asks for or any steel limits, in mass percent. */
export const ELEMENTS = ['C', 'Si', 'Mn', 'P', 'S', 'Ni', 'Cr', 'Mo', 'V', 'Cu', 'W', 'As', 'B'] as const
export type Element = (typeof ELEMENTS)[number]

/** Mass percent of each element; what is not named counts as absent. Carbon is always named. */
export type Composition = { readonly [E in Exclude<Element, 'C'>]?: number | undefined } & { readonly C: number }

/** The name of each element besides carbon, and how much of it low-alloy steel can hold. */
const NAMES: Record<Exclude<Element, 'C'>, readonly [title: string, max: number]> = {
  Si: ['Silicon', 3],
  Mn: ['Manganese', 3],
  P: ['Phosphorus', 0.2],
  S: ['Sulfur', 0.4],
  Ni: ['Nickel', 5],
  Cr: ['Chromium', 5],
  Mo: ['Molybdenum', 2],
  V: ['Vanadium', 1],
  Cu: ['Copper', 1],
  W: ['Tungsten', 3],
  As: ['Arsenic', 0.2],
  B: ['Boron', 0.02],
}
const element = (symbol: Exclude<Element, 'C'>) =>
  quantity(symbol, '%', NAMES[symbol][0], { min: 0, max: NAMES[symbol][1] }).optional()

/**
 * The field in which a calculation asks for a composition. The bounds are those of low-alloy steel.
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
