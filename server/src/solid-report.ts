import { type Design, fullRack, type Works } from '@haspwright/engine'
import type { SolidReport } from '@haspwright/papers/solid'
import type { DesignSolidReport } from './wire.ts'

/**
 * The kept report of a design's solids with what a rack of the works takes of it, as JSON. Only the solids are kept: a works that changes
 * its racks gets other loads without a solid being built again.
 */
export function reportWithRack(kept: Uint8Array, { design, works }: { design: Design; works: Works | undefined }) {
  const report = JSON.parse(new TextDecoder().decode(kept)) as SolidReport // makeSolids wrote it
  const whole: DesignSolidReport = { ...report, rack: works === undefined ? null : fullRack(design, works) }
  return new TextEncoder().encode(`${JSON.stringify(whole, null, 2)}\n`)
}
