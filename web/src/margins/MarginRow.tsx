import { type Finding, gapWords, limitWords, predictedWords, spokenMargin } from '@haspwright/engine'
import { LIMIT_AT, marginMarks } from './margin-geometry.ts'

const percent = (share: number) => `${(share * 100).toFixed(3)}%`

/** One margin: its name, its bar on the common line, its value and what is asked. Pressing it opens its working. */
export function MarginRow({
  finding,
  before,
  station,
  selected,
  onOpen,
}: {
  finding: Finding
  before: Finding | undefined
  station: string
  selected: boolean
  onOpen: () => void
}) {
  const { bar, whisker, ghost } = marginMarks(finding, before)
  return (
    <li className="margin" data-verdict={finding.verdict} data-finding={finding.id}>
      <button
        type="button"
        aria-pressed={selected}
        aria-label={`${spokenMargin(finding, station)}. Show working`}
        onClick={onOpen}
      >
        <span className="margin-name">
          {finding.title}
          <small>{station}</small>
        </span>
        <span className="margin-plot">
          <i className="limit-line" style={{ left: percent(LIMIT_AT) }} />
          {bar === undefined ? (
            <i className="unknown-bar" style={{ left: percent(LIMIT_AT), width: percent(0.32) }} />
          ) : (
            <i
              className={`bar${bar.short ? ' short-bar' : ''}${bar.beyond ? ' beyond' : ''}`}
              style={{ left: percent(bar.from), width: percent(bar.to - bar.from) }}
            />
          )}
          {whisker === undefined ? null : (
            <i
              className={`whisker${whisker.openLeft ? ' open-left' : ''}${whisker.openRight ? ' open-right' : ''}`}
              style={{ left: percent(whisker.from), width: percent(whisker.to - whisker.from) }}
            />
          )}
          {ghost === undefined ? null : <i className="ghost" style={{ left: percent(ghost) }} />}
        </span>
        <span className="margin-value">
          {predictedWords(finding)}
          <small>{gapWords(finding)}</small>
        </span>
        <span className="margin-limit">{limitWords(finding)}</span>
      </button>
    </li>
  )
}
