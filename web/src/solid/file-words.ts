import { formatNumber } from '@haspwright/engine'
import type { SolidFileKind } from '../api/solids.ts'

/** What each kind of file is for, in a word to whoever asks. */
export const FILE_WORDS: Readonly<Record<SolidFileKind, { readonly title: string; readonly purpose: string }>> = {
  step: {
    title: 'STEP, solids',
    purpose:
      'Exact solids (AP242) for any CAD or CAM program: every part at every stage, and the lock locked and open.',
  },
  dxf: {
    title: 'DXF, drawings',
    purpose: 'Dimensioned drawings for CAD, a laser or a marking machine, to scale in millimetres.',
  },
  svg: {
    title: 'SVG, drawings',
    purpose: 'The same drawings to print or to put into a paper, with tolerances, both sizes and title block.',
  },
  '3mf': {
    title: '3MF, prints',
    purpose: 'Closed triangle bodies for a 3D printer: models to hold, not to lock with.',
  },
}

/** `412 bytes`, `86 kB`, `1.2 MB`: thousands, as file lists count. */
export function sizeWords(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`
  if (bytes < 999_500) return `${formatNumber(Math.round(bytes / 1000), 3)} kB`
  return `${formatNumber(bytes / 1e6, 2)} MB`
}
