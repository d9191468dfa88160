import { STEEL_NAMES, type Steel, type SteelName, steels } from '../materials/steels.ts'
import { source } from '../source.ts'

export const hollomonJaffe = source({
  id: 'formula.hollomon-jaffe',
  status: 'handbook',
  citation: "Hollomon and Jaffe's tempering parameter, as given by a plate maker's guide to its use",
  place: 'HP = (273 + T)(20 + lg t)/1000 with T in °C and t in hours',
  note: 'Hollomon and Jaffe, Trans. AIME 162 (1945) 223. Hours: tables that use seconds carry another constant.',
})

/** The cards do not say how long they held; one hour is taken, and every answer that rests on it says so. */
export const CARD_HOURS = 1
export const ONE_HOUR_IS_ASSUMED =
  "The card's tempering values do not state the holding time; one hour is assumed. Try a few parts before the load."

/** The usual constant for time in hours. */
export const USUAL_CONSTANT = 20

/** Tempering parameter in thousands: K and hours (Hollomon–Jaffe). */
export function temperingParameter(temperatureC: number, hours: number, constant = USUAL_CONSTANT): number {
  return ((temperatureC + 273) * (constant + Math.log10(hours))) / 1000
}

/** Temperature in °C that gives a parameter in so many hours; the inverse of `temperingParameter`. */
export function temperatureOfParameter(parameter: number, hours: number, constant = USUAL_CONSTANT): number {
  return (1000 * parameter) / (constant + Math.log10(hours)) - 273
}

type Rows = NonNullable<Steel['tempering']>['rows']

/** Softest and hardest that a steel's table reaches, and the temperatures it spans. */
export function temperingSpan(rows: Rows) {
  const temperatures = rows.map(([temperatureC]) => temperatureC)
  const hardnesses = rows.map(([, hrc]) => hrc)
  return {
    minC: Math.min(...temperatures),
    maxC: Math.max(...temperatures),
    minHrc: Math.min(...hardnesses),
    maxHrc: Math.max(...hardnesses),
  }
}

/** Hardness after tempering for the time of the card; linear between its rows, `undefined` beyond them. */
function hardnessOnCard(rows: Rows, temperatureC: number): number | undefined {
  return interpolate(
    rows.map(([at, hrc]) => [at, hrc]),
    temperatureC,
  )
}

/** Tensile strength in MPa that the card prints for a hardness; linear between its rows, `undefined` beyond them. */
export function tensileOnCard(rows: Rows, hrc: number): number | undefined {
  return interpolate(rows.map(([, softened, tensileMPa]) => [softened, tensileMPa] as const).reverse(), hrc)
}

/** Temperature for the time of the card that gives a hardness; linear between its rows, `undefined` beyond them. */
export function temperatureOnCard(rows: Rows, hrc: number): number | undefined {
  return interpolate(rows.map(([at, softened]) => [softened, at] as const).reverse(), hrc)
}

function interpolate(rising: readonly (readonly [number, number])[], x: number): number | undefined {
  const above = rising.findIndex(([at]) => at >= x)
  const [x1, y1] = rising[above] ?? []
  if (x1 === undefined || y1 === undefined) return undefined
  if (x1 === x) return y1
  const [x0, y0] = rising[above - 1] ?? []
  return x0 === undefined || y0 === undefined ? undefined : y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}

/** Steels whose card gives tempering values. */
export const TEMPERABLE: readonly SteelName[] = STEEL_NAMES.filter((name) => steels[name].tempering !== undefined)

/**
 * Hardness in HRC after tempering at a temperature for so many hours: the card's table turned into a curve over the
 * tempering parameter. `undefined` where the steel has no table, or the parameter lies beyond it.
 */
export function hardnessAfterTempering(
  steel: SteelName,
  { temperatureC, hours, constant = USUAL_CONSTANT }: { temperatureC: number; hours: number; constant?: number },
): number | undefined {
  const rows = steels[steel].tempering?.rows
  if (rows === undefined) return undefined
  const parameter = temperingParameter(temperatureC, hours, constant)
  return hardnessOnCard(rows, snap(temperatureOfParameter(parameter, CARD_HOURS, constant)))
}

/**
 * Tempering temperature in °C that leaves a hardness in HRC after so many hours; the inverse of `hardnessAfterTempering`.
 * `undefined` where the steel has no table, or the hardness lies beyond it.
 */
export function temperingTemperatureFor(
  steel: SteelName,
  { hrc, hours, constant = USUAL_CONSTANT }: { hrc: number; hours: number; constant?: number },
): number | undefined {
  const rows = steels[steel].tempering?.rows
  const onCard = rows === undefined ? undefined : temperatureOnCard(rows, hrc)
  if (onCard === undefined) return undefined
  return temperatureOfParameter(temperingParameter(onCard, CARD_HOURS, constant), hours, constant)
}

/** The parameter and back loses the last digits; the ends of a table must not be lost with them. */
const snap = (temperatureC: number) => Math.round(temperatureC * 1e9) / 1e9
