import type { LockMesh } from '@haspwright/server/client'
import { useMemo } from 'react'

/** The parts of the lock: shown or left out, and one marked so that it is found among the others. */
export function PartChoice({
  mesh,
  hidden,
  onHide,
  marked,
  onMark,
}: {
  mesh: LockMesh
  hidden: ReadonlySet<string>
  onHide: (hidden: ReadonlySet<string>) => void
  marked: string | undefined
  onMark: (marked: string | undefined) => void
}) {
  const materials = useMemo(() => new Map(mesh.parts.map(({ key, material }) => [key, material])), [mesh])
  const names = mesh.placed.map(({ name }) => name)
  const toggle = (name: string) => {
    const next = new Set(hidden)
    if (!next.delete(name)) next.add(name)
    onHide(next)
  }
  return (
    <section className="solid-parts" aria-labelledby="solid-parts">
      <h3 id="solid-parts">Parts</h3>
      <p className="solid-states">
        <button type="button" className="button" onClick={() => onHide(new Set())} disabled={hidden.size === 0}>
          Show all
        </button>
        <button type="button" className="button" onClick={() => onHide(new Set(['Body', 'Cover']))}>
          Without the body
        </button>
      </p>
      <ul aria-label="Parts of the lock">
        {mesh.placed.map(({ name, part }) => (
          <li key={name}>
            <label className="tap">
              <input type="checkbox" checked={!hidden.has(name)} onChange={() => toggle(name)} /> {name}{' '}
              <small className="quiet">{materials.get(part) ?? ''}</small>
            </label>
            <button
              type="button"
              className="text-button small"
              aria-pressed={marked === name}
              aria-label={`Mark ${name}`}
              onClick={() => onMark(marked === name ? undefined : name)}
            >
              {marked === name ? 'marked' : 'mark'}
            </button>
          </li>
        ))}
      </ul>
      <p className="small quiet" role="status">
        {hidden.size === 0
          ? `All ${names.length} parts shown.`
          : `${names.length - hidden.size} of ${names.length} parts shown.`}
        {marked === undefined ? '' : ` ${marked} stands out, the others are lines.`}
      </p>
    </section>
  )
}
