import { formatFixed } from '@haspwright/engine'
import type { LockMesh } from '@haspwright/server/client'
import { type ReactNode, useId, useMemo, useRef, useState } from 'react'
import { boxOf } from './extent.ts'
import type { Shown } from './lock-scene.ts'
import { PartChoice } from './PartChoice.tsx'
import { stateWords } from './placement.ts'
import { SECTIONS, type Section, sectionWords } from './sections.ts'
import { useLockScene } from './use-lock-scene.ts'
import { useWay } from './use-way.ts'
import { NAMED_VIEWS, viewWords } from './views.ts'

/** The lock in three dimensions: turned, cut, opened, its parts shown or left out. Loaded only where it is looked at. */
export function SolidView({ mesh, facts, fallback }: { mesh: LockMesh; facts: string; fallback: ReactNode }) {
  const place = useRef<HTMLDivElement>(null)
  const id = useId()
  const last = mesh.states.length - 1
  const way = useWay(last)
  const box = useMemo(() => boxOf(mesh), [mesh])
  const [section, setSection] = useState<Section>('front')
  const [cutAt, setCutAt] = useState<Partial<Record<Section, number>>>({})
  const [hidden, setHidden] = useState<ReadonlySet<string>>(new Set())
  const [marked, setMarked] = useState<string>()
  const axis = SECTIONS[section].axis
  const [low, high] = axis === undefined ? [0, 0] : [box.low[axis] ?? 0, box.high[axis] ?? 0]
  // The lock is built about the planes through its barrel's axis: there the first cut shows most.
  const atMm = cutAt[section] ?? (axis === 2 ? Math.round(low / 3) : 0)
  const { along } = way
  const shown: Shown = useMemo(
    () => ({ along, section: axis === undefined ? undefined : { axis, atMm }, hidden, marked }),
    [along, axis, atMm, hidden, marked],
  )
  const scene = useLockScene(place, { mesh, box, shown })
  const wayOn = () => (way.isMoving ? way.stop() : way.goTo(along === last ? 0 : last))
  if (scene.hasFailed) return <NoPicture fallback={fallback} />

  const words = `${mesh.design.title} ${viewWords(scene.view)}, ${stateWords(mesh, along)}, ${sectionWords(section, atMm)}.`
  return (
    <div className="solid-view">
      <div className="solid-stage">
        <div
          ref={place}
          className="solid-canvas"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: the picture is turned by keys
          tabIndex={0}
          role="img"
          aria-label={`${words} ${facts}`}
          aria-describedby={`${id}-keys`}
          onPointerDown={(event) => event.currentTarget.focus()}
          onKeyDown={(event) => {
            if (!event.ctrlKey && !event.metaKey && !event.altKey && scene.pressed(event.key)) event.preventDefault()
          }}
        />
        <fieldset className="solid-views screen-only">
          <legend className="label">Seen</legend>
          {NAMED_VIEWS.map(({ name, view }) => (
            <button
              key={name}
              type="button"
              className="button"
              aria-pressed={viewWords(view) === viewWords(scene.view)}
              onClick={() => scene.turnTo(view)}
            >
              {name}
            </button>
          ))}
          <button type="button" className="button" aria-label="Larger" onClick={() => scene.enlarge(1.25)}>
            +
          </button>
          <button type="button" className="button" aria-label="Smaller" onClick={() => scene.enlarge(0.8)}>
            −
          </button>
        </fieldset>
        <p id={`${id}-keys`} className="small quiet screen-only">
          Drag to turn; once clicked, the wheel enlarges. Keys: arrows turn, + and − enlarge, 0 back to the start. First
          angle: what is seen from the left stands to the right of the front.
        </p>
      </div>
      <div className="solid-controls screen-only">
        <section aria-labelledby={`${id}-state`}>
          <h3 id={`${id}-state`}>Locked to open</h3>
          <div className="solid-slider">
            <input
              type="range"
              aria-label="From locked to open"
              min={0}
              max={last}
              step={0.05}
              value={along}
              aria-valuetext={stateWords(mesh, along)}
              onChange={(event) => way.set(Number(event.target.value))}
            />
            <output>{stateWords(mesh, along)}</output>
          </div>
          <p className="solid-states">
            <button type="button" className="button primary" onClick={wayOn}>
              {way.isMoving ? 'Stop' : along === last ? 'Lock it' : 'Open it'}
            </button>
          </p>
          <p className="solid-states">
            {mesh.states.map((state, i) => (
              <button
                key={state}
                type="button"
                className="button"
                aria-pressed={Math.abs(along - i) < 1e-6}
                onClick={() => way.goTo(i)}
              >
                {state}
              </button>
            ))}
          </p>
        </section>
        <section aria-labelledby={`${id}-section`}>
          <h3 id={`${id}-section`}>Section</h3>
          <label className="solid-field">
            <span className="label">Cut</span>
            <select value={section} onChange={(event) => setSection(sectionNamed(event.target.value))}>
              {Object.entries(SECTIONS).map(([key, { title }]) => (
                <option key={key} value={key}>
                  {title}
                </option>
              ))}
            </select>
          </label>
          {axis === undefined ? null : (
            <div className="solid-slider">
              <input
                type="range"
                aria-label="Place of the cut"
                min={Math.floor(low * 2) / 2}
                max={Math.ceil(high * 2) / 2}
                step={0.5}
                value={atMm}
                aria-valuetext={sectionWords(section, atMm)}
                onChange={(event) => setCutAt((was) => ({ ...was, [section]: Number(event.target.value) }))}
              />
              <output className="figure">{formatFixed(atMm, 1)} mm</output>
            </div>
          )}
        </section>
        <PartChoice mesh={mesh} hidden={hidden} onHide={setHidden} marked={marked} onMark={setMarked} />
      </div>
    </div>
  )
}

const sectionNamed = (value: string): Section =>
  (Object.keys(SECTIONS) as Section[]).find((key) => key === value) ?? 'none'

function NoPicture({ fallback }: { fallback: ReactNode }) {
  return (
    <div className="solid-none">
      <p role="status">
        This browser draws nothing in three dimensions (it gives no WebGL). The drawings below show the same sizes; the
        STEP file opens in any program for solids. To see the lock here, allow hardware acceleration in the browser’s
        settings, or open the page in another browser.
      </p>
      {fallback}
    </div>
  )
}
