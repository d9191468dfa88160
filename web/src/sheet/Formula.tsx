import 'katex/dist/katex.min.css'
import katex from 'katex'
import { useLayoutEffect, useRef } from 'react'
import './formula.css'

/** Powers within a unit, `N/mm²`, are set as powers: the upright face has no such sign. */
const setPowers = (tex: string) =>
  tex.replace(
    /\\text\{([^{}]*?)([²³])([^{}]*)\}/g,
    (_, before: string, power: string, after: string) => `\\text{${before}}^{${power === '²' ? 2 : 3}}\\text{${after}}`,
  )

/**
 * A formula set as mathematics. Built node by node: the page's security policy allows no style written into markup.
 * KaTeX puts MathML beside it, so that it can be read aloud.
 */
export function Formula({ tex, inline = false }: { tex: string; inline?: boolean }) {
  const place = useRef<HTMLSpanElement>(null)
  useLayoutEffect(() => {
    if (place.current !== null)
      // Set in a line, with signs of full size: a long formula then breaks at its signs of operation.
      katex.render(inline ? tex : `\\displaystyle ${setPowers(tex)}`, place.current, {
        throwOnError: false,
        strict: 'ignore',
      })
  }, [tex, inline])
  // A long line may be moved sideways with the keyboard too.
  return inline ? (
    <span ref={place} className="formula-inline" />
  ) : (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <span className="formula" tabIndex={0} role="math" aria-label="Formula">
      <span ref={place} />
    </span>
  )
}
