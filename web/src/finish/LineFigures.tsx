import { draftAt } from '../fields/draft.ts'
import { Field } from '../fields/Field.tsx'
import { lineField } from './line-draft.ts'
import type { TriedLine } from './use-line.ts'

const FIGURES = [
  ['hoists'],
  ['track', 'speedMPerS'],
  ['track', 'liftS'],
  ['track', 'lowerS'],
  ['track', 'gapM'],
] as const

/** Carriers and track: what the works does not state yet, and what can be tried. */
export function LineFigures({ tried: { draft } }: { tried: TriedLine }) {
  return (
    <fieldset className="line-figures screen-only">
      <legend className="label">Carriers and track, to try; nothing is stored</legend>
      <p className="small quiet not-stated">
        The works states no line yet. Number of tanks, places, speeds and the time to change a rack are assumed, not
        Tarnmoor’s: set the true ones before a timetable is hung on the wall.
      </p>
      <div className="line-figure-fields">
        {FIGURES.map((path) => (
          <Field key={path.join('.')} model={lineField(...path)} draft={draftAt(draft, path)} path={path} />
        ))}
      </div>
    </fieldset>
  )
}
