import { formatQuantity } from '../../display.ts'
import type { Design } from '../design.ts'

/** At which temperature a clearance is judged. */
export interface Climate {
  readonly key: 'cold' | 'room' | 'hot'
  readonly temperatureC: number
}

export function climatesOf({ requirements: { coldC, hotC } }: Design): Climate[] {
  return [
    { key: 'cold', temperatureC: coldC },
    { key: 'room', temperatureC: 20 },
    { key: 'hot', temperatureC: hotC },
  ]
}

/** `at −40 °C`. */
export function climateWords({ temperatureC }: Climate): string {
  return `at ${formatQuantity(temperatureC, '°C')}`
}
