import type { CodeSpaceSummary } from '@haspwright/server/client'
import { codesWords, percentWords } from '../mechanism/figure-words.ts'
import { shareOf } from './rule-costs.ts'
import { spaceParts } from './space-parts.ts'

/** All codes as one line to scale: what became of them, what is left, what the rules keep out. */
export function SpaceBar({ space, usable }: { space: CodeSpaceSummary; usable: string }) {
  const parts = spaceParts(space, usable).filter(({ count }) => count !== '0')
  const words = parts.map(({ title, count }) => `${percentWords(shareOf(count, space.total))} are ${title}`).join(', ')
  return (
    <div className="space-bar-block">
      <div className="space-bar" role="img" aria-label={`Of all codes ${words}`}>
        {parts.map(({ kind, count }) => (
          <i key={kind} className={kind} style={{ flexGrow: shareOf(count, space.total) }} />
        ))}
      </div>
      <p className="small quiet space-bar-key" aria-hidden="true">
        {parts.map(({ kind, title, count }) => (
          <span key={kind}>
            <i className={`swatch ${kind}`} /> {title} <span className="figure">{codesWords(count)}</span>
          </span>
        ))}
      </p>
    </div>
  )
}
