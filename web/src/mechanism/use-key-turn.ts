import { useCallback, useEffect, useRef, useState } from 'react'

/** From start to stop, ms. */
const TURN_MS = 2600

/** The key's place, and a turn that shows by itself. Who asks for less motion sees its end at once. */
export function useKeyTurn(stopDeg: number) {
  const [turned, setTurned] = useState<number>()
  const [isTurning, setIsTurning] = useState(false)
  const frame = useRef<number>(undefined)
  const stop = useCallback(() => {
    if (frame.current !== undefined) cancelAnimationFrame(frame.current)
    frame.current = undefined
    setIsTurning(false)
  }, [])
  useEffect(() => stop, [stop])

  const turn = useCallback(() => {
    stop()
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) return setTurned(stopDeg)
    setIsTurning(true)
    let began: number | undefined
    const step = (now: number) => {
      began ??= now
      const share = Math.min(1, (now - began) / TURN_MS)
      setTurned(stopDeg * share)
      if (share < 1) frame.current = requestAnimationFrame(step)
      else stop()
    }
    frame.current = requestAnimationFrame(step)
  }, [stop, stopDeg])

  const set = useCallback(
    (deg: number) => {
      stop()
      setTurned(deg)
    },
    [stop],
  )
  // Until it is moved the key stands at the stop, also where the step changes.
  return { keyDeg: turned ?? stopDeg, isTurning, turn, stop, set }
}
