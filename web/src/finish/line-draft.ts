import { movesOnTrack, type TimetableInput, timetable } from '@haspwright/engine'
import { type Draft, draftOf, valueFrom } from '../fields/draft.ts'
import { type FieldModel, fieldModel } from '../fields/field-model.ts'

/** The line's fields as its timetable declares them: words, units and limits are the engine's. */
export const lineModel = fieldModel(timetable.input)

/** The form of a line as its timetable is asked; moves follow from places and speed, so that they are no fields of it. */
export function draftOfLine({ tanks, transferLimits = [], hoists, track }: TimetableInput): Draft {
  return draftOf(lineModel, { tanks, transferLimits, hoists, track })
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
  const speed = figure(track?.speedMPerS)
  const { loadedMoveS, emptyMoveS } = movesOnTrack({
    placesM: tanks.map((_, i) => figure(track?.placesM?.[i])),
    speedMPerS: speed > 0 ? speed : 1,
    liftS: figure(track?.liftS),
    lowerS: figure(track?.lowerS),
  })
  return { ...typed, loadedMoveS: loadedMoveS.map((s) => Math.max(LEAST_MOVE_S, s)), emptyMoveS }
}

/** The least that a timetable takes for a loaded move. */
const LEAST_MOVE_S = 0.001

/** What cannot be read counts as nothing here: its own field says what is wrong with it. */
const figure = (value: unknown) =>
  typeof value === 'number' && Number.isFinite(value) ? Math.max(-1e3, Math.min(1e3, value)) : 0

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
