import { Link, Outlet, useRouterState } from '@tanstack/react-router'
import { useEffect, useRef } from 'react'
import { useLeave, useMay, usePerson } from '../api/people.ts'
import { Doorkeeper } from './Doorkeeper.tsx'
import { LightSwitch } from './LightSwitch.tsx'
import './shell.css'

/** The head with its places, and the page under it. Everything else is reached from a thing, not from a menu. */
export function Shell() {
  const main = useMain()
  const person = usePerson()
  const looksAfterPeople = useLeave('people.manage').kind !== 'not-given'
  const seesOrders = useMay('orders.read')
  const countsCodes = useMay('codes.count')
  const holdsLots = useMay('codes.see-in-hand')
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
          {seesOrders ? (
            <>
              <Link to="/orders">Orders</Link>
              <Link to="/designs">Designs</Link>
            </>
          ) : null}
          {countsCodes ? <Link to="/codes">Codes</Link> : null}
          {holdsLots && !countsCodes ? <Link to="/codes/custody">Lots in hand</Link> : null}
          {seesOrders ? <Link to="/evidence">Evidence</Link> : null}
          {looksAfterPeople ? <Link to="/people">People</Link> : null}
        </nav>
        <LightSwitch />
        {person === undefined ? null : (
          <Link to="/account" className="who-is-here tap" aria-label={`My account: ${person.name}`}>
            {person.name}
          </Link>
        )}
      </header>
      <main id="main" ref={main} tabIndex={-1}>
        <Doorkeeper>
          <Outlet />
        </Doorkeeper>
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
