import { gauge } from '../body/gauge.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { limitsOf } from './dimension.ts'
import type { Gauge, PartSize } from './plan.ts'

/** The bores of a body by name and number; the cross bore comes in from either side, one for each ball. */
export function boresOf({ body }: Design) {
  return [
    { key: 'barrel', name: 'Barrel bore', bore: body.barrelBore, count: 1 },
    { key: 'heel', name: 'Heel bore', bore: body.heelBore, count: 1 },
    { key: 'toe', name: 'Toe bore', bore: body.toeBore, count: 1 },
    { key: 'cross', name: 'Cross bore', bore: body.crossBore, count: 2 },
  ] as const
}
export type NamedBore = ReturnType<typeof boresOf>[number]

/** Gauges and the size to drill for one bore; refused where the spread of the coating eats the tolerance. */
export function gaugeFor({ coating }: Design, { bore }: NamedBore) {
  const { minMm, maxMm } = limitsOf(bore.diameter)
  return ask(gauge, {
    minMm,
    maxMm,
    coatingMinUm: coating.inBores.minUm,
    coatingMaxUm: coating.inBores.maxUm,
  })
}

/** Sizes of all bores before plating and finished. */
export function sizesOfBores(design: Design): PartSize[] {
  return boresOf(design).map((named) => {
    const asked = gaugeFor(design, named)
    return {
      feature: `${named.name} diameter`,
      beforePlatingMm: asked.ok ? { minMm: asked.output.machinedMinMm, maxMm: asked.output.machinedMaxMm } : null,
      finishedMm: limitsOf(named.bore.diameter),
      because: asked.ok ? 'A plated bore closes by twice the coating.' : asked.because,
    }
  })
}

/** Plug gauges of all bores, for the drilled and for the plated body. */
export function gaugesOfBores(design: Design): Gauge[] {
  return boresOf(design).flatMap((named) => {
    const asked = gaugeFor(design, named)
    const finished = limitsOf(named.bore.diameter)
    const plug = (stage: Gauge['stage'], goMm: number, noGoMm: number): Gauge => ({
      feature: named.name,
      kind: 'plug',
      goMm,
      noGoMm,
      stage,
    })
    return [
      ...(asked.ok ? [plug('before plating', asked.output.machinedMinMm, asked.output.machinedMaxMm)] : []),
      plug('finished', finished.minMm, finished.maxMm),
    ]
  })
}
