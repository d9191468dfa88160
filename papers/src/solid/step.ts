import { exportSTEP, type Shape3D } from 'replicad'

/** A product of a STEP file. */
export interface StepProduct {
  readonly name: string
  readonly solid: Shape3D
  /** `#rrggbb`. */
  readonly colour: string
}

/**
 * Solids as a STEP file (ISO 10303-21) of the schema AP242, in millimetres. The kernel's own head names nobody in particular: it is
 * replaced by one that names the drawing, and a fixed time, so that equal designs give equal files.
 */
export async function stepFile(products: readonly StepProduct[], { title }: { title: string }): Promise<Uint8Array> {
  const file = exportSTEP(
    products.map(({ name, solid, colour }) => ({ shape: solid, name, color: colour })),
    { unit: 'MM', modelUnit: 'MM' },
  )
  const text = await file.text()
  return new TextEncoder().encode(text.replace(KERNEL_NAME, () => fileName(title)))
}

const KERNEL_NAME = /FILE_NAME\([\s\S]*?\);/
const NO_TIME = '1970-01-01T00:00:00'

/** name, time stamp, authors, organisations, preprocessor, originating system, authorisation. */
function fileName(title: string): string {
  return `FILE_NAME('${stepText(title)}','${NO_TIME}',(''),(''),'Haspwright','Haspwright','');`
}

/** Text as part 21 takes it: apostrophes doubled, anything beyond ASCII as an extended run. */
function stepText(text: string): string {
  return text
    .replace(/['\\]/g, (character) => character + character)
    .replace(
      /[^\x20-\x7e]/g,
      (character) => `\\X2\\${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}\\X0\\`,
    )
}
