import { type Design, formatNumber, formatQuantity, openingSpec, rockedProbability } from '@haspwright/engine'
import type { Remedy } from './differs.ts'
import { openingWindows } from './opening-windows.ts'

/** The design with a remedy in it. Scatter shrinks in all its parts alike; the window by the gate, the sidebar staying as it is. */
export function withRemedy(design: Design, { field, to }: Remedy): Design {
  const { mechanism } = design
  const changed = (figures: Partial<Design['mechanism']>): Design => ({
    ...design,
    mechanism: { ...mechanism, ...figures },
  })
  switch (field) {
    case 'rockDeg':
      return changed({ rockDeg: down(to) })
    case 'values': {
      const span = mechanism.stepDeg * (mechanism.values - 1)
      return changed({ values: to, stepDeg: span / (to - 1) })
    }
    case 'sigmaDeg': {
      const share = to / openingSpec(design, 'widest').sigmaDeg
      return changed({
        gateSigmaDeg: down(mechanism.gateSigmaDeg * share),
        keyCutSigmaDeg: down(mechanism.keyCutSigmaDeg * share),
        lostMotionSigmaDeg: down(mechanism.lostMotionSigmaDeg * share),
      })
    }
    case 'halfWindowDeg': {
      const { gateWidth, sidebarWidth, gateRadiusMm } = mechanism
      const play = (to * Math.PI * gateRadiusMm) / 90 // ° to either side → mm in all
      // The window meant is the widest: the widest gate against the narrowest sidebar.
      const width = play - gateWidth.plusMm + sidebarWidth.nominalMm - sidebarWidth.minusMm
      const nominalMm = width < gateWidth.nominalMm ? down(width) : up(width)
      return changed({ gateWidth: { ...gateWidth, nominalMm } })
    }
  }
}

/** To a thousandth, on the side where the remedy still holds. */
const down = (value: number) => Math.max(0.001, Math.floor(value * 1000 + 1e-6) / 1000)
const up = (value: number) => Math.ceil(value * 1000 - 1e-6) / 1000

/** How surely the own key opens with a remedy, in the narrowest window that the tolerances allow. */
export function ownOpensAfter(design: Design, remedy: Remedy): number {
  const after = withRemedy(design, remedy)
  return rockedProbability(openingWindows(after).own, new Array<number>(after.mechanism.discs).fill(0))
}

/** How much of today's figure the change is: what remedies are ranked by. */
export const costOf = ({ from, to }: Remedy): number => Math.abs(to - from) / Math.max(Math.abs(from), 1e-9)

/** What the works would change, in the figures of its own drawings. */
export function remedyWords(design: Design, remedy: Remedy): string {
  const before = design.mechanism
  const after = withRemedy(design, remedy).mechanism
  switch (remedy.field) {
    case 'rockDeg':
      return `rocking play ${formatQuantity(before.rockDeg, '°')} to ${formatQuantity(after.rockDeg, '°')} each way`
    case 'values':
      return `${before.values} to ${after.values} values, step ${formatQuantity(before.stepDeg, '°')} to ${formatQuantity(after.stepDeg, '°')}`
    case 'sigmaDeg':
      return `gate, cut and lost motion together σ ${formatQuantity(remedy.from, '°', 3)} to ${formatQuantity(remedy.to, '°', 3)}`
    case 'halfWindowDeg':
      return `gate width ${formatNumber(before.gateWidth.nominalMm)} to ${formatQuantity(after.gateWidth.nominalMm, 'mm')}`
  }
}
