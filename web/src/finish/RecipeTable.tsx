import { formatNumber } from '@haspwright/engine'
import type { Draft } from '../fields/draft.ts'
import { draftAt } from '../fields/draft.ts'
import type { NumberModel } from '../fields/field-model.ts'
import { useForm } from '../fields/form-context.ts'
import { NumberEntry } from '../fields/NumberEntry.tsx'
import { lineField } from './line-draft.ts'
import type { TriedLine } from './use-line.ts'

const COLUMNS = [
  { field: 'minS', title: 'Least', path: ['tanks', 'minS'] },
  { field: 'maxS', title: 'Most', path: ['tanks', 'maxS'] },
  { field: 'places', title: 'Tanks', path: ['tanks', 'places'] },
] as const

/** Every step with its window as it can be changed, and the soak that the timetable gives it. */
export function RecipeTable({ tried: { stations, draft, line, solved } }: { tried: TriedLine }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="table-scroll" tabIndex={0} aria-label="Recipe">
      <table className="sheet-table recipe-table">
        <thead>
          <tr>
            <th scope="col">Station</th>
            {COLUMNS.map(({ field, title }) => (
              <th key={field} scope="col">
                {title} {field === 'places' ? '' : <small>s; no most: empty</small>}
              </th>
            ))}
            <th scope="col">
              Place <small>m along the track</small>
            </th>
            <th scope="col" className="right">
              Soak <small>s</small>
            </th>
            <th scope="col">In its window</th>
            <th scope="col">Times from</th>
          </tr>
        </thead>
        <tbody>
          {stations.map(({ name, from }, station) => {
            const soak = solved.output?.soaks.find(({ tank }) => tank === station)
            const own = line?.tanks[station]
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: a station is its place in the recipe
              <tr key={station} data-slowest={solved.output?.slowestTank === station || undefined}>
                <th scope="row">
                  <span className="figure quiet">{station}</span> {name}
                  {solved.output?.slowestTank === station ? <small className="pace">sets the pace</small> : null}
                </th>
                {COLUMNS.map(({ field, title, path }) => (
                  <td key={field}>
                    <FigureCell
                      model={lineField(...path)}
                      draft={draftAt(draft, ['tanks', station, field])}
                      path={['tanks', station, field]}
                      label={`${title}, station ${station} ${name}`}
                    />
                  </td>
                ))}
                <td>
                  <FigureCell
                    model={placeModel}
                    draft={draftAt(draft, ['track', 'placesM', station])}
                    path={['track', 'placesM', station]}
                    label={`Place, station ${station} ${name}`}
                  />
                </td>
                <td className="figure right">{soak === undefined ? '—' : formatNumber(soak.soakS, 4)}</td>
                <td>
                  {soak === undefined || own === undefined ? null : (
                    <WindowBar minS={own.minS} maxS={own.maxS} soakS={soak.soakS} />
                  )}
                </td>
                <td className="small quiet">{from}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

const places = lineField('track', 'placesM')
const placeModel = places.kind === 'list' ? places.item : places

function FigureCell({
  model,
  draft,
  path,
  label,
}: {
  model: ReturnType<typeof lineField>
  draft: Draft
  path: readonly (string | number)[]
  label: string
}) {
  const issues = useForm().issuesAt(path)
  if (model.kind !== 'number') return null
  const bare: NumberModel = { ...model, unit: '' }
  return (
    <div data-bad={issues.length > 0 || undefined}>
      <NumberEntry model={bare} draft={typeof draft === 'string' ? draft : ''} path={path} label={label} />
      {issues.map(({ message }) => (
        <p key={message} className="cell-issue">
          {message}
        </p>
      ))}
    </div>
  )
}

/** Where the soak ends between its least (left) and its most (right); a window without end has no right edge. */
function WindowBar({ minS, maxS, soakS }: { minS: number; maxS: number | null; soakS: number }) {
  const left = maxS === null ? null : maxS - soakS
  const share = maxS === null || maxS <= minS ? 0 : Math.min(1, Math.max(0, (soakS - minS) / (maxS - minS)))
  const over = soakS - minS
  const words =
    maxS === null
      ? `${formatNumber(Math.max(0, over), 3)} s over the least`
      : left !== null && left < 0.05
        ? 'at its most'
        : over < 0.05
          ? 'at its least'
          : `${formatNumber(over, 3)} over, ${formatNumber(left ?? 0, 3)} left`
  return (
    <span className="window-cell">
      <svg viewBox="0 0 76 12" className="window-bar" aria-hidden="true">
        <path d={maxS === null ? 'M74 3H2V9H74' : 'M2 3H74V9H2Z'} />
        <circle cx={2 + share * 72} cy="6" r="3.4" />
      </svg>
      <span className="small">{words}</span>
    </span>
  )
}
