import type { Issue } from '@haspwright/engine'

/** What is wrong with a field, at the field. */
export function IssueLines({ id, issues }: { id?: string; issues: readonly Issue[] }) {
  return (
    <div id={id} className="issue-lines" aria-live="polite">
      {issues.map(({ message, allowed }) => (
        <p key={message}>
          {message}
          {allowed === undefined ? '' : ` Allowed: ${allowed}.`}
        </p>
      ))}
    </div>
  )
}
