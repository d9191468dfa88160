import { formatFixed } from '@haspwright/engine'

/** How the lock can be cut; the axis is the one that the cut is square to. */
export const SECTIONS = {
  none: { title: 'not cut', axis: undefined },
  front: { title: 'front taken away', axis: 1 },
  left: { title: 'left side taken away', axis: 0 },
  above: { title: 'top taken away', axis: 2 },
} as const satisfies Readonly<Record<string, { title: string; axis: 0 | 1 | 2 | undefined }>>
export type Section = keyof typeof SECTIONS

/** `not cut`, or `front taken away up to 2.5 mm behind the middle`. */
export function sectionWords(section: Section, atMm: number): string {
  const { title } = SECTIONS[section]
  if (section === 'none') return title
  const size = formatFixed(Math.abs(atMm), 1)
  if (section === 'above') return `${title} down to ${size} mm ${atMm > 0 ? 'above' : 'below'} the top face of the body`
  if (atMm === 0) return `${title} up to the middle`
  const side = section === 'front' ? (atMm > 0 ? 'behind' : 'before') : atMm > 0 ? 'right of' : 'left of'
  return `${title} up to ${size} mm ${side} the middle`
}
