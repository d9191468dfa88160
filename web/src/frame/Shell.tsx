import { Link, Outlet, useRouterState } from '@tanstack/react-router'
import { useEffect, useRef } from 'react'
import { LightSwitch } from './LightSwitch.tsx'
import './shell.css'

/** The head with its places, and the page under it. Everything else is reached from a thing, not from a menu. */
export function Shell() {
  const main = useMain()
  return (
    <>
      <a className="skip screen-only" href="#main">
        Skip to the page
      </a>
      <header className="head screen-only">
        <Link to="/orders" className="mark">
          Haspwright
        </Link>
        <nav aria-label="Places">
          <Link to="/orders">Orders</Link>
          <Link to="/designs">Designs</Link>
          <Link to="/codes">Codes</Link>
          <Link to="/evidence">Evidence</Link>
        </nav>
        <LightSwitch />
      </header>
      <main id="main" ref={main} tabIndex={-1}>
        <Outlet />
      </main>
    </>
  )
}

/** After going to another page the keyboard and the screen reader start at its content, as they would after loading it. */
function useMain() {
  const main = useRef<HTMLElement>(null)
  const path = useRouterState({ select: ({ resolvedLocation }) => resolvedLocation?.pathname })
  const before = useRef(path)
  useEffect(() => {
    if (before.current !== undefined && before.current !== path) main.current?.focus({ preventScroll: true })
    before.current = path
  }, [path])
  return main
}
