import type { Design } from '@haspwright/engine'
import type { ReactNode } from 'react'

/** The shut lock in outline, from the design's figures, where the solid will stand once it is here. */
export function LockAhead({ design: { body, shackle }, children }: { design: Design; children: ReactNode }) {
  const [width, height] = [body.widthMm, body.height.nominalMm]
  const bar = shackle.barDiameter.nominalMm
  const half = (shackle.insideWidth.nominalMm + bar) / 2
  // From the top face of the body up to where the bend begins.
  const straight = shackle.toeLegMm - shackle.notch.fromToeEndMm - body.crossBoreFromTopMm
  const top = straight + half + bar
  return (
    <div className="solid-view">
      <div className="solid-stage">
        <div className="solid-canvas solid-ahead">
          <svg viewBox={`${-width / 2 - 1} ${-top - 1} ${width + 2} ${top + height + 2}`} aria-hidden="true">
            <path d={arch(half + bar / 2, straight)} />
            <path d={arch(half - bar / 2, straight)} />
            <rect x={-width / 2} y={0} width={width} height={height} />
          </svg>
          {children}
        </div>
      </div>
    </div>
  )
}

const arch = (radius: number, straight: number) =>
  `M${-radius} 0V${-straight}A${radius} ${radius} 0 0 1 ${radius} ${-straight}V0`
