import { ROLE_NAMES, ROLES, type Role } from '@haspwright/server/client'

/** Roles to tick, each with what it is for. */
export function RoleChoice({
  legend,
  chosen,
  onChange,
  without = [],
}: {
  legend: string
  chosen: readonly Role[]
  onChange: (roles: readonly Role[]) => void
  without?: readonly Role[]
}) {
  return (
    <fieldset className="role-choice">
      <legend className="label">{legend}</legend>
      {ROLE_NAMES.filter((role) => !without.includes(role)).map((role) => (
        <label key={role} className="role-line">
          <input
            type="checkbox"
            checked={chosen.includes(role)}
            onChange={(event) =>
              onChange(event.target.checked ? [...chosen, role] : chosen.filter((each) => each !== role))
            }
          />
          <span>
            {ROLES[role].title} <span className="quiet small">{ROLES[role].does}</span>
          </span>
        </label>
      ))}
    </fieldset>
  )
}
