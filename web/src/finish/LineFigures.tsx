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

/** Carriers and track as the works states them, to be tried. */
export function LineFigures({ tried: { draft }, isAssumed }: { tried: TriedLine; isAssumed: boolean }) {
  return (
    <fieldset className="line-figures screen-only">
      <legend className="label">Carriers and track, to try; nothing is stored</legend>
      {isAssumed ? (
        <p className="small quiet not-stated">
          The works file states no line. Tanks, places, speeds and the time to change a rack are assumed, common
          practice (no source): state the true ones under “Tanks and carriers” of the works file.
        </p>
      ) : (
        <p className="small quiet">As the works file states them; what is changed here changes this page alone.</p>
      )}
      <div className="line-figure-fields">
        {FIGURES.map((path) => (
          <Field key={path.join('.')} model={lineField(...path)} draft={draftAt(draft, path)} path={path} />
        ))}
      </div>
    </fieldset>
  )
}
