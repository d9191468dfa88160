import 'katex/dist/katex.min.css'
import { useEffect, useLayoutEffect, useRef, useState } from 'react'
import './formula.css'

type Katex = typeof import('katex').default

let arrived: Katex | undefined
/** Fetched beside the page, so that a page opens without waiting for it. */
const coming = import('katex').then(({ default: katex }) => {
  arrived = katex
  return katex
})

function useKatex(): Katex | undefined {
  const [katex, setKatex] = useState(() => arrived)
  useEffect(() => {
    if (katex === undefined) void coming.then((come) => setKatex(() => come))
  }, [katex])
  return katex
}

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
  const katex = useKatex()
  useLayoutEffect(() => {
    if (place.current !== null && katex !== undefined)
      // Set in a line, with signs of full size: a long formula then breaks at its signs of operation.
      katex.render(inline ? tex : `\\displaystyle ${setPowers(tex)}`, place.current, {
        throwOnError: false,
        strict: 'ignore',
      })
  }, [katex, tex, inline])
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
