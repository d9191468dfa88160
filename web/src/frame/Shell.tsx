import { Link, Outlet } from '@tanstack/react-router'
import { LightSwitch } from './LightSwitch.tsx'
import './shell.css'

/** The head with its places, and the page under it. Everything else is reached from a thing, not from a menu. */
export function Shell() {
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
          <Link to="/evidence">Evidence</Link>
        </nav>
        <LightSwitch />
      </header>
      <main id="main" tabIndex={-1}>
        <Outlet />
      </main>
    </>
  )
}
