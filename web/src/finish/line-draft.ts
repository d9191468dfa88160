import { timetable } from '@haspwright/engine'
import type { LineTank } from '@haspwright/papers/drawing'
import { type Draft, draftOf, valueFrom } from '../fields/draft.ts'
import { type FieldModel, fieldModel } from '../fields/field-model.ts'
import type { LineStep } from './line-recipe.ts'

/**
 * What the works does not state of its line yet. The page says that these are assumed, and lets each be changed; nothing of them is
 * stored.
 */
export const ASSUMED = {
  tankWidthM: 1,
  pitchM: 1.2,
  nickelTanks: 4,
  speedMPerS: 0.5,
  liftS: 6,
  lowerS: 6,
  gapM: 1.8,
  carriers: 1,
} as const

/** The line's fields as its timetable declares them: words, units and limits are the engine's. */
export const lineModel = fieldModel(timetable.input)

/** The form of a line that goes through the steps of a recipe. */
export function draftOfLine(steps: readonly LineStep[], transfer: object | undefined): Draft {
  const places = steps.map(({ kind }) => (kind === 'nickel' ? ASSUMED.nickelTanks : 1))
  const placesM = places.map((own, i) => {
    const before = places.slice(0, i).reduce((sum, each) => sum + each, 0)
    return Number(((before + own / 2) * ASSUMED.pitchM).toFixed(2))
  })
  return draftOf(lineModel, {
    tanks: steps.map(({ name, minS, maxS }, i) => ({ name, minS, maxS, places: places[i] })),
    transferLimits: transfer === undefined ? [] : [transfer],
    hoists: ASSUMED.carriers,
    track: {
      placesM,
      gapM: ASSUMED.gapM,
      speedMPerS: ASSUMED.speedMPerS,
      liftS: ASSUMED.liftS,
      lowerS: ASSUMED.lowerS,
    },
  })
}

interface TypedLine {
  readonly tanks?: readonly { readonly places?: unknown }[]
  readonly track?: {
    readonly placesM?: readonly unknown[]
    readonly speedMPerS?: unknown
    readonly liftS?: unknown
    readonly lowerS?: unknown
  }
}

/** What the timetable is asked: the form, with the moves that places and speed of the track make. */
export function lineInput(draft: Draft): Record<string, unknown> {
  const typed = valueFrom(lineModel, draft) as Record<string, unknown> & TypedLine // the model is a group
  const { tanks = [], track } = typed
  const places = tanks.map((_, i) => figure(track?.placesM?.[i]))
  const [speed, liftS, lowerS] = [figure(track?.speedMPerS), figure(track?.liftS), figure(track?.lowerS)]
  const travelS = (i: number, j: number) => Math.abs((places[i] ?? 0) - (places[j] ?? 0)) / (speed > 0 ? speed : 1)
  return {
    ...typed,
    loadedMoveS: tanks.map((_, i) => Math.max(0.001, liftS + travelS(i, (i + 1) % tanks.length) + lowerS)),
    emptyMoveS: tanks.map((_, i) => tanks.map((_, j) => travelS(i, j))),
  }
}

/** What cannot be read counts as nothing here: its own field says what is wrong with it. */
const figure = (value: unknown) =>
  typeof value === 'number' && Number.isFinite(value) ? Math.max(-1e3, Math.min(1e3, value)) : 0

interface DrawnLine {
  readonly tanks: readonly { readonly name?: string | undefined; readonly places?: number | undefined }[]
  readonly track?: { readonly placesM: readonly number[] } | undefined
}

/** The tanks as they stand: equal ones of a step side by side about its place. */
export function tanksOf({ tanks, track }: DrawnLine, steps: readonly LineStep[]): readonly LineTank[] {
  return tanks.flatMap(({ name, places = 1 }, station) => {
    const middle = track?.placesM[station] ?? station * ASSUMED.pitchM
    return Array.from({ length: places }, (_, k) => ({
      station,
      name: name ?? `Station ${station}`,
      kind: steps[station]?.kind ?? 'other',
      atM: middle + (k - (places - 1) / 2) * ASSUMED.pitchM,
      widthM: ASSUMED.tankWidthM,
    }))
  })
}

/** A field of the line's form. */
export function lineField(...path: readonly string[]): FieldModel {
  const found = path.reduce<FieldModel | undefined>((inner, step) => {
    if (inner?.kind === 'group') return inner.fields.find(({ name }) => name === step)
    return inner?.kind === 'list' && inner.item.kind === 'group'
      ? inner.item.fields.find(({ name }) => name === step)
      : undefined
  }, lineModel)
  if (found === undefined) throw new Error(`The timetable has no field ${path.join('.')}.`)
  return found
}
