import { type RefObject, useLayoutEffect, useState } from 'react'

/** Pixels of the page to a millimetre of paper, as style sheets count. */
const PX_PER_MM = 96 / 25.4
const FIRST_MM = 200
const LEAST_MM = 100

/** How wide a drawing can be where it stands, mm, so that its figures keep their size. */
export function useWidthMm(place: RefObject<HTMLElement | null>): number {
  const [widthMm, setWidthMm] = useState(FIRST_MM)
  useLayoutEffect(() => {
    const element = place.current
    if (element === null) return
    const measure = () => setWidthMm(Math.max(LEAST_MM, Math.round(element.clientWidth / PX_PER_MM) || FIRST_MM))
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [place])
  return widthMm
}
