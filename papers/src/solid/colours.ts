import type { PartDefinition } from './part-list.ts'

/** Steel, brass and what no material is known of, so that parts can be told apart in another program. */
export function colourOf(part: PartDefinition | undefined): string {
  if (part?.material === undefined) return '#b08d57'
  return part.material.startsWith('CuZn') ? '#c9a227' : '#9aa3a8'
}
