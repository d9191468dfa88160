import { formatMinutes, formatNumber } from '@haspwright/engine'
import { type Cycle, placedSteps } from './furnace-cycle.ts'

/** The recipe as one sentence, and what of it nobody states. */
export function cycleSentence(cycle: Cycle): string {
  const steps = placedSteps(cycle)
    .filter(({ minutes }) => minutes > 0)
    .map(({ name, fromC, toC, minutes }) => {
      const temperatures = fromC === toC ? `at ${formatNumber(toC)} °C` : `to ${formatNumber(toC)} °C`
      return name === 'Quench'
        ? `quench ${temperatures}`
        : `${name.toLowerCase()} ${temperatures}, ${formatMinutes(minutes)}`
    })
  return `${capital(steps.join('; '))}.`
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
