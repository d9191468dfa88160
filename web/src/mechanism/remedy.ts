import {
  type Design,
  differsInput,
  formatNumber,
  formatQuantity,
  openingSpec,
  rockedProbability,
} from '@haspwright/engine'
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
    case 'stepDeg':
      return changed({ stepDeg: up(to) })
    case 'gateSigmaDeg':
    case 'keyCutSigmaDeg':
    case 'lostMotionSigmaDeg':
      return changed({ [field]: down(to) })
    case 'sigmaDeg': {
      const share = to / openingSpec(design, 'widest').sigmaDeg
      return changed({
        gateSigmaDeg: down(mechanism.gateSigmaDeg * share),
        keyCutSigmaDeg: down(mechanism.keyCutSigmaDeg * share),
        lostMotionSigmaDeg: down(mechanism.lostMotionSigmaDeg * share),
      })
    }
    case 'halfWindowDeg': {
      const { gateWidth } = mechanism
      const width = gateWidth.nominalMm + playOf(design, to - differsInput(design).halfWindowDeg)
      const nominalMm = width < gateWidth.nominalMm ? down(width) : up(width)
      return changed({ gateWidth: { ...gateWidth, nominalMm } })
    }
    case 'halfWindowToleranceDeg': {
      const share = to / differsInput(design).halfWindowToleranceDeg
      const { gateWidth, sidebarWidth } = mechanism
      return changed({ gateWidth: closer(gateWidth, share), sidebarWidth: closer(sidebarWidth, share) })
    }
  }
}

/** Play between gate and sidebar that an angle to either side takes, mm in all. */
const playOf = ({ mechanism }: Design, deg: number) => (deg * Math.PI * mechanism.gateRadiusMm) / 90

/** The tolerance field shrunk about its middle, so that the middle of the window stays where it is. */
function closer<T extends Design['mechanism']['gateWidth']>(size: T, share: number): T {
  const middle = size.nominalMm + (size.plusMm - size.minusMm) / 2
  const half = Math.max(0, Math.floor(((size.plusMm + size.minusMm) / 2) * share * 1000 + 1e-6) / 1000)
  return { ...size, nominalMm: Math.round(middle * 10_000) / 10_000, plusMm: half, minusMm: half }
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
    case 'stepDeg':
      return `step ${formatQuantity(before.stepDeg, '°')} to ${formatQuantity(after.stepDeg, '°')}, ${formatQuantity(after.stepDeg * (after.values - 1), '°', 3)} in all`
    case 'gateSigmaDeg':
    case 'keyCutSigmaDeg':
    case 'lostMotionSigmaDeg':
      return `σ of ${PART_WORDS[remedy.field]} ${formatQuantity(before[remedy.field], '°', 3)} to ${formatQuantity(after[remedy.field], '°', 3)}`
    case 'sigmaDeg':
      return `gate, cut and lost motion together σ ${formatQuantity(remedy.from, '°', 3)} to ${formatQuantity(remedy.to, '°', 3)}`
    case 'halfWindowDeg':
      return `gate width ${formatNumber(before.gateWidth.nominalMm)} to ${formatQuantity(after.gateWidth.nominalMm, 'mm')}, or sidebar width ${formatNumber(before.sidebarWidth.nominalMm)} to ${formatQuantity(sidebarInstead(before, after), 'mm')}`
    case 'halfWindowToleranceDeg':
      return `gate width ±${formatNumber(halfField(before.gateWidth))} to ±${formatNumber(halfField(after.gateWidth))}, sidebar ±${formatNumber(halfField(before.sidebarWidth))} to ±${formatQuantity(halfField(after.sidebarWidth), 'mm')}`
  }
}

const PART_WORDS = { gateSigmaDeg: 'gates', keyCutSigmaDeg: 'key cuts', lostMotionSigmaDeg: 'lost motion' } as const

/** The sidebar that makes the same window with the gate left as it is. */
const sidebarInstead = (before: Design['mechanism'], after: Design['mechanism']) =>
  before.sidebarWidth.nominalMm + before.gateWidth.nominalMm - after.gateWidth.nominalMm

const halfField = ({ plusMm, minusMm }: { plusMm: number; minusMm: number }) => (plusMm + minusMm) / 2
