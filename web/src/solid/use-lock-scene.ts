import type { LockMesh } from '@haspwright/server/client'
import { type RefObject, useCallback, useEffect, useRef, useState } from 'react'
import type { Box } from './extent.ts'
import { LockScene, type Shown } from './lock-scene.ts'
import { lookOf, watchLook } from './look.ts'
import { FIRST_VIEW, turnedByKey, type View } from './views.ts'

/** Keeps a scene of the lock in a canvas: its size, its light, what it shows, and how it is turned. */
export function useLockScene(
  place: RefObject<HTMLDivElement | null>,
  { mesh, box, shown }: { readonly mesh: LockMesh; readonly box: Box; readonly shown: Shown },
) {
  const scene = useRef<LockScene>(undefined)
  const [view, setView] = useState<View>(FIRST_VIEW)
  const [hasFailed, setHasFailed] = useState(false)

  useEffect(() => {
    const element = place.current
    if (element === null) return
    const canvas = document.createElement('canvas')
    let made: LockScene
    try {
      made = new LockScene(canvas, { mesh, box, onTurned: setView })
    } catch {
      // No WebGL here, or none left: the page says so and shows the drawings.
      setHasFailed(true)
      return
    }
    scene.current = made
    canvas.setAttribute('aria-hidden', 'true')
    element.append(canvas)
    const light = () => made.look(lookOf(element))
    light()
    made.turnTo(FIRST_VIEW)
    const unwatch = watchLook(light)
    const size = () => made.resize(element.clientWidth, element.clientHeight)
    size()
    const observer = new ResizeObserver(size)
    observer.observe(element)
    const taken = () => {
      made.takenInHand = document.activeElement === element
    }
    element.addEventListener('focus', taken)
    element.addEventListener('blur', taken)
    return () => {
      element.removeEventListener('focus', taken)
      element.removeEventListener('blur', taken)
      observer.disconnect()
      unwatch()
      made.dispose()
      canvas.remove()
      scene.current = undefined
    }
  }, [place, mesh, box])
  useEffect(() => scene.current?.show(shown), [shown])

  const turnTo = useCallback((to: View) => {
    scene.current?.turnTo(to)
    setView(to)
  }, [])
  const enlarge = useCallback((by: number) => scene.current?.enlarge(by), [])
  /** @returns whether the key was one that turns or enlarges */
  const pressed = useCallback(
    (key: string): boolean => {
      const turned = scene.current === undefined ? undefined : turnedByKey(scene.current.view, key)
      if (turned !== undefined) turnTo(turned)
      else if (key === '+' || key === '=') enlarge(1.25)
      else if (key === '-') enlarge(0.8)
      else if (key === '0' || key === 'Home') turnTo(FIRST_VIEW)
      else return false
      return true
    },
    [turnTo, enlarge],
  )
  return { view, hasFailed, turnTo, enlarge, pressed }
}
