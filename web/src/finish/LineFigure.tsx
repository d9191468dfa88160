import { carrierPathDrawing, clock, type LinePicture, PATH_EDGE, platingLineDrawing } from '@haspwright/papers/drawing'
import { type KeyboardEvent, useMemo, useRef } from 'react'
import { Drawing } from '../sheet/Drawing.tsx'
import { lastMove, lineAt, nextMove } from './line-motion.ts'
import { useCycleClock, useLessMotion } from './use-cycle-clock.ts'
import { useWidthMm } from './use-width-mm.ts'

/** Height of the diagram, mm of paper. */
const PATH_HEIGHT = 128

/** The line from the side, and under each tank its column of the carrier's diagram; one clock moves both. */
export function LineFigure({
  picture,
  slowestStation,
  words,
}: {
  picture: LinePicture
  slowestStation: number
  /** The diagram in words. */
  words: string
}) {
  const { cycleS, tanks, carriers, soaks, reachM, gapM } = picture
  const place = useRef<HTMLDivElement>(null)
  const widthMm = useWidthMm(place)
  const { atS, isPlaying, play, stop, set } = useCycleClock(cycleS)
  const lessMotion = useLessMotion()
  const moment = useMemo(() => lineAt(picture, atS), [picture, atS])
  const lineSvg = platingLineDrawing({
    tanks,
    reachM,
    ...(gapM === undefined ? {} : { gapM }),
    widthMm,
    slowestStation,
    ...moment,
  })
  const pathSvg = useMemo(
    () => carrierPathDrawing({ tanks, reachM, widthMm, heightMm: PATH_HEIGHT, cycleS, soaks, carriers, words }),
    [tanks, reachM, widthMm, cycleS, soaks, carriers, words],
  )
  const cursor = (PATH_EDGE.top + (atS / cycleS) * (PATH_HEIGHT - PATH_EDGE.top - PATH_EDGE.bottom)) / PATH_HEIGHT
  const goTo = (move: { readonly fromS: number } | undefined) => {
    if (move !== undefined) set(((move.fromS % cycleS) + cycleS) % cycleS)
  }
  const stepByKey = (event: KeyboardEvent) => {
    if (event.key !== 'PageDown' && event.key !== 'PageUp') return
    event.preventDefault()
    goTo(event.key === 'PageDown' ? nextMove(picture, atS) : lastMove(picture, atS))
  }
  return (
    <figure className="line-figure" ref={place}>
      <Drawing svg={lineSvg} className="line-drawing" />
      <div className="line-player screen-only">
        {lessMotion ? null : (
          <button type="button" className="button" onClick={isPlaying ? stop : play}>
            {isPlaying ? 'Stop' : 'Play the cycle'}
          </button>
        )}
        <button type="button" className="button" onClick={() => goTo(lastMove(picture, atS))}>
          Move before
        </button>
        <button type="button" className="button" onClick={() => goTo(nextMove(picture, atS))}>
          Next move
        </button>
        <label htmlFor="line-moment" className="label">
          Moment of the cycle
        </label>
        <input
          id="line-moment"
          type="range"
          min={0}
          max={Math.floor(cycleS)}
          step={1}
          value={Math.round(atS)}
          aria-valuetext={moment.words}
          onChange={(event) => set(Number(event.target.value))}
          onKeyDown={stepByKey}
        />
        <output className="figure" htmlFor="line-moment">
          {clock(atS)}
        </output>
      </div>
      <p className="small line-words screen-only" aria-live={isPlaying ? 'off' : 'polite'}>
        {moment.words}
      </p>
      <div className="path-place">
        <Drawing svg={pathSvg} className="path-drawing" />
        <i className="path-cursor screen-only" style={{ top: `${(cursor * 100).toFixed(3)}%` }} aria-hidden="true" />
      </div>
      <figcaption className="small quiet path-legend">
        <span>
          <Key kind="soak" /> soak
        </span>
        <span>
          <Key kind="window" /> may end here
        </span>
        <span>
          <Key kind="loaded" /> carrier with a rack
        </span>
        <span>
          <Key kind="empty" /> carrier empty or waiting
        </span>
        {carriers.length < 2 ? null : (
          <>
            <span>each carrier its own line: 1 full, 2 dashed, 3 dash-dotted, 4 dash-dot-dotted</span>
            <span>bar over a carrier: its share of the gap; two bars never overlap</span>
          </>
        )}
        <span className="path-axis">time ↓ min:s, places → to scale as on the line above</span>
      </figcaption>
    </figure>
  )
}

/** What a line of the diagram means. */
function Key({ kind }: { kind: 'soak' | 'window' | 'loaded' | 'empty' }) {
  return (
    <svg viewBox="0 0 26 10" className={`path-key ${kind}`} aria-hidden="true">
      {kind === 'window' ? <rect x="1" y="1" width="24" height="8" /> : <path d="M1 5H25" />}
    </svg>
  )
}
