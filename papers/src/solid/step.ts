import { type StepContent, stepText } from './step-document.ts'
import { withStylesInOrder } from './step-styles.ts'

/**
 * Solids as a STEP file (ISO 10303-21) of the schema AP242, in millimetres. The kernel's own head names nobody in particular: it is
 * replaced by one that names the drawing, and a fixed time; with uses counted from 1 in each file, equal designs give equal files.
 */
export function stepFile(content: StepContent, { title }: { title: string }): Uint8Array {
  let uses = 0
  const text = withStylesInOrder(stepText(content))
    .replace(KERNEL_NAME, () => fileName(title))
    .replace(KERNEL_USE, (_, before) => `${before}'${++uses}'`)
  return new TextEncoder().encode(text)
}

/** The kernel numbers uses on and on from file to file. */
const KERNEL_USE = /(NEXT_ASSEMBLY_USAGE_OCCURRENCE\s*\(\s*)'\d+'/g
const KERNEL_NAME = /FILE_NAME\([\s\S]*?\);/
const NO_TIME = '1970-01-01T00:00:00'

/** name, time stamp, authors, organisations, preprocessor, originating system, authorisation. */
function fileName(title: string): string {
  return `FILE_NAME('${escaped(title)}','${NO_TIME}',(''),(''),'Haspwright','Haspwright','');`
}

/** Text as part 21 takes it: apostrophes doubled, anything beyond ASCII as an extended run. */
function escaped(text: string): string {
  return text
    .replace(/['\\]/g, (character) => character + character)
    .replace(
      /[^\x20-\x7e]/g,
      (character) => `\\X2\\${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}\\X0\\`,
    )
}
