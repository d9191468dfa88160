import { type Finding, tightestFirst } from '../finding.ts'
import { shackleHeats } from './bar-heat.ts'
import type { Design } from './design.ts'
import type { DesignPlan, OperationPlan } from './plan.ts'
import type { Works } from './resources.ts'
import { KEY_STEPS, type OperationKind, operationTitles } from './route.ts'
import { bendShackle } from './steps/bend-shackle.ts'
import { build } from './steps/build.ts'
import { clean } from './steps/clean.ts'
import { close } from './steps/close.ts'
import { cutBar } from './steps/cut-bar.ts'
import { cutKeys } from './steps/cut-keys.ts'
import { drillBody } from './steps/drill-body.ts'
import { harden } from './steps/harden.ts'
import { notchShackle } from './steps/notch-shackle.ts'
import { chromium, nickel } from './steps/plate.ts'
import { prove } from './steps/prove.ts'
import { release } from './steps/release.ts'
import { reliefBakeStep } from './steps/relief-bake.ts'
import type { StepPlanner } from './steps/step.ts'

const planners: Readonly<Record<OperationKind, StepPlanner>> = {
  'cut-bar': cutBar,
  'drill-body': drillBody,
  'bend-shackle': bendShackle,
  'notch-shackle': notchShackle,
  harden,
  clean,
  nickel,
  chromium,
  'relief-bake': reliefBakeStep,
  'cut-keys': cutKeys,
  build,
  close,
  prove,
  release,
}

/** What a design is planned for: with an order, its numbers; without, a single lock. No lock: keys alone go through the works. */
export interface DesignDemand {
  readonly locks: number
  readonly largestLot: number
  readonly codesNeeded: number
  /** Numbers of the heats its shackles are cut from; where none is named, every heat in stock in its bar is judged. */
  readonly shackleHeats?: readonly string[]
}

/**
 * One design through every step of its route: settings, sizes, gauges, times, and the findings that depend on nothing but the design,
 * the works and the numbers wanted. A few milliseconds, so that a changed tolerance shows at once.
 */
export function planDesign(
  design: Design,
  works: Works,
  { locks, largestLot, codesNeeded, shackleHeats: numbers }: DesignDemand = { locks: 1, largestLot: 1, codesNeeded: 1 },
): { plan: DesignPlan; findings: readonly Finding[] } {
  const route = locks > 0 ? design.route : design.route.filter(({ operation }) => KEY_STEPS.has(operation))
  const barHeats = shackleHeats(design, works, numbers)
  const steps = route.map(({ operation, workCentre, setupMinutes, minutesPerPiece }) => {
    const step = planners[operation]({ design, works, locks, largestLot, codesNeeded, barHeats, minutesPerPiece })
    const plan: OperationPlan = {
      operation,
      id: `${design.id}/${operation}`,
      title: operationTitles[operation],
      instruction: step.instruction,
      workCentre,
      settings: step.settings,
      sizes: step.sizes ?? [],
      gauges: step.gauges ?? [],
      setupMinutes,
      time: step.time,
      record: step.record,
      cautions: step.cautions ?? [],
    }
    return { plan, findings: step.findings }
  })
  return {
    plan: {
      design,
      operations: steps.map(({ plan }) => plan),
    },
    findings: tightestFirst(steps.flatMap(({ findings }) => findings)),
  }
}
