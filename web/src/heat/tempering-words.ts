import { type Design, formatFixed, formatNumber, type Works } from '@haspwright/engine'
import type { HeatView } from './heat-view.ts'

/** The tempering plot as sentences: the chosen point, what is asked, what embrittles, the bake and its gap. */
export function temperingSentence(view: HeatView, design: Design, works: Works | undefined): string {
  return temperingWords(view, design, works).join(' ')
}

/** The same, one sentence at a time. */
export function temperingWords(
  { shown, cardRows, proposedC, embrittling, bake }: HeatView,
  { heat, shackle }: Design,
  works: Works | undefined,
): string[] {
  const { temperC, temperMinutes, hardness, bakeGapK } = heat
  const n = (value: number) => formatNumber(value)
  const chosen = shown.tempered.ok
    ? `${n(temperC)} °C for ${n(temperMinutes)} min leaves ${shown.tempered.output.surfaceBasis === 'upper bound' ? 'at most ' : ''}${formatFixed(shown.tempered.output.surfaceHrc, 1)} HRC at the surface; asked are ${n(hardness.minHrc)} to ${n(hardness.maxHrc)}.`
    : `What ${n(temperC)} °C leaves is not known yet: ${shown.tempered.because}`
  const inside = embrittling.filter(({ minC, maxC }) => temperC >= minC && temperC <= maxC)
  return [
    chosen,
    proposedC.ok
      ? `For the middle of what is asked temper at ${formatFixed(proposedC.output.temperatureC, 0)} °C.`
      : `No temperature for the middle of what is asked: ${proposedC.because}`,
    cardRows.length === 0
      ? `No published tempering values of ${shackle.steel} are at hand.`
      : `Points: the card of ${shackle.steel}, taken as held for one hour.`,
    inside.length === 0
      ? `Embrittling ranges are avoided: ${embrittling.map(({ name, minC, maxC }) => `${name}, ${minC} to ${maxC} °C`).join('; ')}.`
      : inside
          .map(({ name, minC, maxC, remedy }) => `${n(temperC)} °C lies in ${name}, ${minC} to ${maxC} °C. ${remedy}`)
          .join(' '),
    bakeWords(bake, works, temperC, bakeGapK),
  ]
}

function bakeWords(bake: HeatView['bake'], works: Works | undefined, temperC: number, askedK: number): string {
  if ('none' in bake) return `Hydrogen bake: ${bake.none}.`
  const range = `Hydrogen bake ${bake.minC} to ${bake.maxC} °C, ${formatNumber(bake.hours)} h`
  if (works === undefined) return `${range}.`
  const gap = temperC - works.bake.setC
  return `${range}; ${works.bake.oven} is set to ${formatNumber(works.bake.setC)} °C, ${formatNumber(gap)} K below the tempering, asked at least ${formatNumber(askedK)} K${gap < askedK ? ': too little' : ''}.`
}
