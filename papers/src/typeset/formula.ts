import { tex2typst } from 'tex2typst'

/** A formula for the typesetter: in its own language where that worked, and always as TeX to fall back on. */
export interface Formula {
  readonly tex: string
  readonly math: string | null
}

/** Converts a formula of a working. One that does not convert is printed as TeX: the paper still comes out. */
export function formula(tex: string): Formula {
  const known = seen.get(tex)
  if (known !== undefined) return known
  const made = { tex, math: convert(tex) }
  if (seen.size > 5000) seen.clear()
  seen.set(tex, made)
  return made
}

/** Conversion takes as long as setting the line; the same equation stands on many sheets. */
const seen = new Map<string, Formula>()

function convert(tex: string): string | null {
  try {
    const math = tex2typst(prepared(tex))
    // A hash outside a string would leave mathematics and run as code.
    return math.replace(/"(?:[^"\\]|\\.)*"/g, '').includes('#') ? null : math
  } catch {
    return null
  }
}

/**
 * A negative thin space, which the converter does not know, only tightens and is left out. A subscript that is a word or a chemical
 * symbol stands upright (ISO 80000-1): `D_{min}` would be a product.
 */
function prepared(tex: string): string {
  return tex.replaceAll('\\!', '').replace(/_\{([A-Za-z]{3,}|[A-Z][a-z])\}/g, '_{\\text{$1}}')
}
