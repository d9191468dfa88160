import { PERMISSIONS, type Permission, ROLE_NAMES, ROLES } from '@haspwright/server/client'
import { usePageTitle } from '../frame/use-page-title.ts'
import './people.css'

const PERMISSION_NAMES = Object.keys(PERMISSIONS) as Permission[] // keys of the table the server decides by

/** The table the server decides by, as it stands. */
export function RolesPage() {
  usePageTitle('Who may do what')
  return (
    <div className="page people-page">
      <h1>Who may do what</h1>
      <p className="lead">
        The server decides by this table, for pages and programs alike. Nobody is administrator and at the codes at
        once.
      </p>
      <table className="people-table">
        <thead>
          <tr>
            <th scope="col">May …</th>
            <th scope="col">Who</th>
          </tr>
        </thead>
        <tbody>
          {PERMISSION_NAMES.map((permission) => (
            <tr key={permission}>
              <td>
                {PERMISSIONS[permission].may}
                {'secondFactor' in PERMISSIONS[permission] ? (
                  <span className="quiet small">, with second factor</span>
                ) : null}
              </td>
              <td>
                {ROLE_NAMES.filter((role) => (ROLES[role].may as readonly Permission[]).includes(permission))
                  .map((role) => ROLES[role].title)
                  .join(', ')}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
