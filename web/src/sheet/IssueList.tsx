import type { Issue } from '@haspwright/engine'
import './issue-list.css'

/** Everything that is wrong with an input: where, what, what was given, what would be right. */
export function IssueList({ issues, title }: { issues: readonly Issue[]; title: string }) {
  return (
    <section className="issues" role="alert" aria-label={title}>
      <h3 className="short">{title}</h3>
      <div className="issues-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Where</th>
              <th scope="col">What is wrong</th>
              <th scope="col">Given</th>
              <th scope="col">Allowed</th>
            </tr>
          </thead>
          <tbody>
            {issues.map(({ path, message, value, allowed }) => (
              <tr key={`${path} ${message}`}>
                <td className="figure">{path === '' ? 'the whole' : path}</td>
                <td>{message}</td>
                <td className="figure">{value === undefined ? '' : String(value)}</td>
                <td>{allowed ?? ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}
