import type { Permission } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useLeave } from '../api/people.ts'

/** Stands where an act would be that this person may not do now: who may, or what is missing. Nothing where they may. */
export function WhyNot({ permission }: { permission: Permission }) {
  const leave = useLeave(permission)
  if (leave.kind === 'given') return null
  return (
    <span className="why-not small quiet screen-only">
      {leave.words}
      {leave.kind === 'second-factor-missing' ? (
        <>
          {' '}
          <Link to="/account" className="tap">
            My account
          </Link>
        </>
      ) : null}
    </span>
  )
}
