import { answer, cleaning, type Design, deposit, hydrogenStrength } from '@haspwright/engine'
import type { TankKind } from '@haspwright/papers/drawing'

/** One step of the line: what it is for, how long a load may soak in it, and where that was taken from. */
export interface LineStep {
  readonly name: string
  readonly kind: TankKind
  readonly minS: number
  /** `null`: as long as it likes. */
  readonly maxS: number | null
  readonly from: string
}

export type Recipe =
  | { readonly ok: true; readonly steps: readonly LineStep[]; readonly transfer: Transfer | undefined }
  | { readonly ok: false; readonly because: string }

/** The wet way from nickel to chromium, which may not take long. */
export interface Transfer {
  readonly fromTank: number
  readonly toTank: number
  readonly maxS: number
  readonly askedBy: string
}

/** Taking a finished rack off and hanging the next one on, s; nobody states it yet. */
const CHANGE_RACK_S = 90

/** The way of a rack down the line, as cleaning, layers and rinses of a design ask for it. Step 0 loads and unloads. */
export function recipeOf(design: Design): Recipe {
  const tensile = hydrogenStrength(design)
  if (!tensile.ok) return tensile
  const clean = answer(cleaning, { tensileMPa: tensile.tensileMPa })
  if (!clean.ok) return { ok: false, because: clean.issues.map(({ message }) => message).join(' ') }
  const cleaned = clean.output.steps.map(
    ({ name, minSeconds, maxSeconds }): LineStep => ({
      name,
      kind: /rinse/i.test(name) ? 'rinse' : /acid/i.test(name) ? 'acid' : 'cleaner',
      minS: minSeconds,
      maxS: maxSeconds,
      from: 'cleaning for this strength',
    }),
  )
  const rinse = cleaned.find(({ kind }) => kind === 'rinse')
  const layers: LineStep[] = []
  for (const layer of design.coating.layers) {
    const plated = platingStep(design, layer)
    if ('because' in plated) return { ok: false, because: plated.because }
    layers.push(plated, ...(rinse === undefined ? [] : [{ ...rinse, from: 'as the rinses of cleaning' }]))
  }
  const steps: LineStep[] = [
    { name: 'Load, unload', kind: 'station', minS: CHANGE_RACK_S, maxS: null, from: 'assumed' },
    ...cleaned,
    ...layers,
    ...(rinse === undefined ? [] : [{ ...rinse, name: 'Last rinse', from: 'as the rinses of cleaning' }]),
  ]
  return { ok: true, steps, transfer: transferOf(design, steps) }
}

function platingStep(
  { coating }: Design,
  layer: Design['coating']['layers'][number],
): LineStep | { readonly because: string } {
  const { metal, currentDensityAPerDm2, efficiencyPercent, meanUm } = layer
  const bath = answer(deposit, { metal, areaDm2: 1, currentDensityAPerDm2, efficiencyPercent, thicknessUm: meanUm })
  if (!bath.ok) return { because: bath.issues.map(({ message }) => message).join(' ') }
  const seconds = bath.output.minutes * 60
  const allUm = coating.layers.reduce((sum, each) => sum + each.meanUm, 0)
  // A layer may grow until the coating of the legs has its greatest thickness.
  const most = seconds * Math.max(1, coating.onShackle.maxUm / allUm)
  return {
    name: metal === 'nickel' ? 'Nickel' : metal.startsWith('chromium') ? 'Chromium' : metal,
    kind: metal === 'nickel' ? 'nickel' : metal.startsWith('chromium') ? 'chromium' : 'other',
    minS: Math.ceil(seconds),
    maxS: Math.floor(most),
    from: `${meanUm} µm at ${currentDensityAPerDm2} A/dm²; at most until the leg is ${coating.onShackle.maxUm} µm thicker`,
  }
}

function transferOf({ coating }: Design, steps: readonly LineStep[]): Transfer | undefined {
  const fromTank = steps.findIndex(({ kind }) => kind === 'nickel')
  const toTank = steps.findIndex(({ kind }) => kind === 'chromium')
  if (coating.nickelToChromiumS === undefined || fromTank < 0 || toTank <= fromTank) return undefined
  return { fromTank, toTank, maxS: coating.nickelToChromiumS.limit, askedBy: coating.nickelToChromiumS.askedBy }
}
