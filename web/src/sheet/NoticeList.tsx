import './notice-list.css'

/** What was answered on an assumption, or outside the range a formula was checked in. */
export function NoticeList({ notices, title = 'To note' }: { notices: readonly string[]; title?: string }) {
  if (notices.length === 0) return null
  return (
    <div className="notices">
      <h4 className="label">{title}</h4>
      <ul>
        {[...new Set(notices)].map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  )
}
