import { useLayoutEffect, useRef } from 'react'
import './drawing.css'

/**
 * A drawing made from a design's numbers, given as SVG text with its own title and description. Where words beside it say the
 * same, it is decoration.
 */
export function Drawing({
  svg,
  className = '',
  decoration = false,
}: {
  svg: string
  className?: string
  decoration?: boolean
}) {
  const place = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement
    place.current?.replaceChildren(document.importNode(drawn, true))
  }, [svg])
  return <div ref={place} className={`drawing ${className}`} aria-hidden={decoration || undefined} />
}
