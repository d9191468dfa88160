import { useCallback, useEffect, useRef, useState } from 'react'

/** From one state to the next, ms. */
const STATE_MS = 700

/** The place on the way from shut to open, and a way that is gone by itself. Who asks for less motion is at its end at once. */
export function useWay(last: number) {
  const [along, setAlong] = useState(0)
  const [isMoving, setIsMoving] = useState(false)
  const place = useRef(0)
  const frame = useRef<number>(undefined)
  const stop = useCallback(() => {
    if (frame.current !== undefined) cancelAnimationFrame(frame.current)
    frame.current = undefined
    setIsMoving(false)
  }, [])
  useEffect(() => stop, [stop])

  const put = useCallback((to: number) => {
    place.current = to
    setAlong(to)
  }, [])
  const set = useCallback(
    (to: number) => {
      stop()
      put(Math.min(last, Math.max(0, to)))
    },
    [stop, put, last],
  )
  const goTo = useCallback(
    (end: number) => {
      stop()
      if (matchMedia('(prefers-reduced-motion: reduce)').matches) return put(end)
      setIsMoving(true)
      const start = place.current
      let began: number | undefined
      const step = (now: number) => {
        began ??= now
        const gone = (now - began) / STATE_MS
        if (gone >= Math.abs(end - start)) {
          put(end)
          return stop()
        }
        put(start + Math.sign(end - start) * gone)
        frame.current = requestAnimationFrame(step)
      }
      frame.current = requestAnimationFrame(step)
    },
    [stop, put],
  )
  return { along, isMoving, set, goTo, stop }
}
