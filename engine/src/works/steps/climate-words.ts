import { formatQuantity } from '../../display.ts'
import type { Climate } from '../chains.ts'

/** `at −40 °C`. */
export function climateWords({ temperatureC }: Climate): string {
  return `at ${formatQuantity(temperatureC, '°C')}`
}
