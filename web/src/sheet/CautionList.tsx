import type { Caution } from '@haspwright/engine'
import './caution-list.css'

/** Hazards of a step. They stand open, in words; nothing has to be pressed to see them. */
export function CautionList({ cautions }: { cautions: readonly Caution[] }) {
  if (cautions.length === 0) return null
  return (
    <ul className="cautions" aria-label="Cautions">
      {cautions.map(({ id, title, text }) => (
        <li key={id}>
          <strong>{title}.</strong> {text}
        </li>
      ))}
    </ul>
  )
}
