import { useCallback, useEffect, useRef, useState } from 'react'

/** A cycle plays in this time, ms, however long it is. */
const CYCLE_PLAYS_MS = 30_000

/** The moment of the cycle that is shown: set by hand, or running on by itself, round and round, until it is stopped. */
export function useCycleClock(cycleS: number) {
  const [momentS, setMomentS] = useState(0)
  const [isPlaying, setIsPlaying] = useState(false)
  const frame = useRef<number>(undefined)

  const stop = useCallback(() => {
    if (frame.current !== undefined) cancelAnimationFrame(frame.current)
    frame.current = undefined
    setIsPlaying(false)
  }, [])
  useEffect(() => stop, [stop])

  const play = useCallback(() => {
    stop()
    setIsPlaying(true)
    let last: number | undefined
    const step = (now: number) => {
      const passedS = last === undefined ? 0 : ((now - last) / CYCLE_PLAYS_MS) * cycleS
      last = now
      setMomentS((was) => (was + passedS) % cycleS)
      frame.current = requestAnimationFrame(step)
    }
    frame.current = requestAnimationFrame(step)
  }, [stop, cycleS])

  const set = useCallback(
    (atS: number) => {
      stop()
      setMomentS(atS)
    },
    [stop],
  )
  // A shorter cycle may end before the moment that was shown.
  return { atS: Math.min(momentS, cycleS), isPlaying, play, stop, set }
}

/** Whether the system asks for less motion: then nothing runs by itself, and the moves are stepped through. */
export function useLessMotion(): boolean {
  const [less, setLess] = useState(() => matchMedia('(prefers-reduced-motion: reduce)').matches)
  useEffect(() => {
    const asked = matchMedia('(prefers-reduced-motion: reduce)')
    const hear = () => setLess(asked.matches)
    asked.addEventListener('change', hear)
    return () => asked.removeEventListener('change', hear)
  }, [])
  return less
}
