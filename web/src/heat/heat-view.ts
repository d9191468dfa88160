import {
  answer,
  austenitize,
  type Calculation,
  type Composition,
  chargeHeat,
  chargePlan,
  coldToughness,
  criticalPoints,
  type Design,
  type EmbrittlingRange,
  embrittlingOf,
  furnaceRecord,
  hydrogenStrength,
  type Issue,
  parseTemperatureLog,
  quenchSection,
  reliefBake,
  shackleHeats,
  steels,
  temper,
  temperFor,
  temperSection,
  throughHeating,
  type Works,
} from '@haspwright/engine'
import { thin } from '../plot/plot-geometry.ts'
import {
  chargeHeatInput,
  chargePlanInput,
  coldInput,
  type HardenedDesign,
  type LotShape,
  proposalInput,
  quenchInput,
  temperedInput,
  windowInput,
} from './heat-inputs.ts'

/** What a calculation said, or why it says nothing. */
export type Known<O> =
  | { readonly ok: true; readonly output: O; readonly notices: readonly string[] }
  | { readonly ok: false; readonly because: string; readonly issues: readonly Issue[] }

type Output<C> = C extends Calculation<infer _, infer O> ? ReturnType<O['parse']> : never
export type QuenchedSection = Output<typeof quenchSection>
export type TemperedSection = Output<typeof temperSection>
export type CriticalPoints = Output<typeof criticalPoints>
export type Window = Output<typeof austenitize>
export type ColdAnswer = Output<typeof coldToughness>
export type JudgedRecord = Output<typeof furnaceRecord>
export type ChargePlan = Output<typeof chargePlan>
export type ChargeHeatAnswer = Output<typeof chargeHeat>

// biome-ignore lint/suspicious/noExplicitAny: the shape of the input is the calculation's own; it checks it
function know<C extends Calculation<any, any>>(calculation: C, input: unknown): Known<Output<C>> {
  const result = answer(calculation, input)
  return result.ok
    ? { ok: true, output: result.output as Output<C>, notices: result.notices }
    : { ok: false, because: result.issues.map(({ message }) => message).join(' '), issues: result.issues }
}

/** Hardness left at the surface by a tempering temperature. */
export interface CurvePoint {
  readonly temperatureC: number
  readonly hrc: number
}

/** The picture of one analysis: out of the quench, tempered, the tempering curve, the transformation temperatures. */
export interface HeatOfAnalysis {
  readonly points: Known<CriticalPoints>
  readonly quenched: Known<QuenchedSection>
  readonly tempered: Known<TemperedSection>
  readonly curve: readonly CurvePoint[]
}

/** Everything that the station of hardening shows of a design. */
export interface HeatView {
  readonly shown: HeatOfAnalysis
  /** The middle of the steel's range, where a heat's own analysis is shown instead. */
  readonly middle?: HeatOfAnalysis
  /** What the steel's card prints: temperature, hardness. */
  readonly cardRows: readonly CurvePoint[]
  readonly proposedC: Known<{ readonly temperatureC: number }>
  readonly embrittling: readonly EmbrittlingRange[]
  readonly bake: { readonly minC: number; readonly maxC: number; readonly hours: number } | { readonly none: string }
  readonly window: Known<Window>
  /** Minutes until the core is hot: in the hardening and in the tempering furnace. */
  readonly heating: Known<{ readonly minutes: number }>
  readonly temperHeating: Known<{ readonly minutes: number }>
  readonly cold: Known<ColdAnswer>
}

const CURVE_FROM_C = 100
const CURVE_TO_C = 720
const CURVE_STEP_C = 10

/** Works out the picture of a design, of a heat's own analysis where one is given. */
export function heatView(design: Design, own?: Composition): HeatView {
  const { heat, shackle } = design
  const window = know(austenitize, windowInput(design, own))
  const diameterMm = shackle.barDiameter.nominalMm
  return {
    shown: heatOf(design, own),
    ...(own === undefined ? {} : { middle: heatOf(design, undefined) }),
    cardRows: (steels[shackle.steel].tempering?.rows ?? []).map(([temperatureC, hrc]) => ({ temperatureC, hrc })),
    proposedC: know(temperFor, proposalInput(design)),
    embrittling: embrittlingOf(shackle.steel),
    bake: bakeOf(design),
    window,
    heating: window.ok ? know(throughHeating, { diameterMm, furnaceC: window.output.setC }) : window,
    temperHeating: know(throughHeating, { diameterMm, furnaceC: heat.temperC }),
    cold: know(coldToughness, coldInput(design)),
  }
}

function heatOf(design: Design, own: Composition | undefined): HeatOfAnalysis {
  const quenched = know(quenchSection, quenchInput(design, own))
  return {
    points: know(criticalPoints, { composition: own ?? steels[design.shackle.steel].midAnalysis }),
    quenched,
    tempered: know(temperSection, temperedInput(design, own)),
    curve: temperingCurve(design, quenched.ok ? quenched.output.surfaceHrc : Number.POSITIVE_INFINITY),
  }
}

/** The card's curve for the time held; never harder than the surface was before tempering (the bound of `heat.temper-section`). */
function temperingCurve({ shackle, heat }: Design, quenchedHrc: number): CurvePoint[] {
  const count = Math.floor((CURVE_TO_C - CURVE_FROM_C) / CURVE_STEP_C) + 1
  return Array.from({ length: count }, (_, i) => CURVE_FROM_C + i * CURVE_STEP_C).flatMap((temperatureC) => {
    const left = know(temper, { steel: shackle.steel, temperatureC, minutes: heat.temperMinutes })
    return left.ok && left.output.hrc !== undefined
      ? [{ temperatureC, hrc: Math.min(left.output.hrc, quenchedHrc) }]
      : []
  })
}

function bakeOf(design: Design): HeatView['bake'] {
  const tensile = hydrogenStrength(design)
  if (!tensile.ok) return { none: `not known yet: ${tensile.because}` }
  const bake = know(reliefBake, { tensileMPa: tensile.tensileMPa, temperedAtC: design.heat.temperC })
  if (!bake.ok) return { none: `not known yet: ${bake.because}` }
  const { needed, hours, minC, maxC } = bake.output
  if (!needed || minC === undefined || maxC === undefined) return { none: 'not needed at this strength' }
  return { minC, maxC, hours }
}

/** Temperatures of one couple, thinned for drawing; `null` breaks the line. */
export interface RecordLine {
  readonly couple: string
  readonly points: readonly (readonly [minutes: number, temperatureC: number | null])[]
}

/** A furnace record as it was read and judged. */
export type RecordAnswer =
  | { readonly ok: false; readonly issues: readonly Issue[] }
  | {
      readonly ok: true
      readonly lines: readonly RecordLine[]
      readonly readings: number
      readonly minutes: number
      readonly notices: readonly string[]
      readonly judged: Known<JudgedRecord>
    }

/** Stretches into which a line is thinned; each keeps its first, lowest, highest and last reading. */
const STRETCHES = 400

/** Reads a temperature log and holds it against a recipe. */
export function judgeRecord(text: string, recipe: unknown): RecordAnswer {
  const reading = parseTemperatureLog(text)
  if (!reading.ok) return reading
  const { couples, readings, notices } = reading.log
  return {
    ok: true,
    lines: couples.map((couple, i) => ({
      couple,
      points: thin(
        readings.map(({ minutes, temperaturesC }) => [minutes, temperaturesC[i] ?? null] as const),
        STRETCHES,
      ),
    })),
    readings: readings.length,
    minutes: (readings.at(-1)?.minutes ?? 0) - (readings[0]?.minutes ?? 0),
    notices,
    judged: know(furnaceRecord, { couples, readings, recipe }),
  }
}

/** Which lots share a furnace charge, and what each kind of charge takes. */
export interface LoadsView {
  readonly plan: Known<ChargePlan>
  readonly recipes: readonly { readonly recipe: string; readonly words: string }[]
  /** One for each charge of the plan, in its order. */
  readonly heats: readonly Known<ChargeHeatAnswer>[]
  /** Designs whose lots could not be planned, and why. */
  readonly left: readonly { readonly design: string; readonly because: string }[]
}

/** Plans the furnace charges of an order. */
export function loadsView(lots: readonly LotShape[], designs: readonly Design[], works: Works): LoadsView {
  const windows = designs.map((design) => ({
    design,
    window: know(austenitize, windowInput(design, shackleHeats(design, works, undefined)[0]?.analysis)),
  }))
  const hardened = windows.flatMap(({ design, window }): HardenedDesign[] =>
    window.ok ? [{ design, window: window.output }] : [],
  )
  const { recipes, input } = chargePlanInput(lots, hardened, works)
  const plan = know(chargePlan, input)
  const designOf = new Map(lots.map(({ id, design }) => [id, design]))
  return {
    plan,
    recipes,
    heats: !plan.ok
      ? []
      : plan.output.charges.map((charge) => {
          const own = hardened.find(({ design }) => design.id === designOf.get(charge.lots[0]?.lot ?? ''))
          const asked = own === undefined ? undefined : chargeHeatInput(charge.massKg, own, works)
          return asked === undefined
            ? { ok: false, because: 'No design of this charge is known.', issues: [] }
            : asked.ok
              ? know(chargeHeat, asked.input)
              : { ...asked, issues: [] }
        }),
    left: windows.flatMap(({ design, window }) => (window.ok ? [] : [{ design: design.id, because: window.because }])),
  }
}

/** What the page may ask away from itself. */
export type HeatQuestion =
  | { readonly kind: 'view'; readonly design: Design; readonly own?: Composition }
  | { readonly kind: 'record'; readonly text: string; readonly recipe: unknown }
  | {
      readonly kind: 'loads'
      readonly lots: readonly LotShape[]
      readonly designs: readonly Design[]
      readonly works: Works
    }

export interface HeatAnswers {
  readonly view: HeatView
  readonly record: RecordAnswer
  readonly loads: LoadsView
}

/** Answers one question of the page. */
export function answerHeat(question: HeatQuestion): HeatAnswers[HeatQuestion['kind']] {
  switch (question.kind) {
    case 'view':
      return heatView(question.design, question.own)
    case 'record':
      return judgeRecord(question.text, question.recipe)
    case 'loads':
      return loadsView(question.lots, question.designs, question.works)
  }
}
