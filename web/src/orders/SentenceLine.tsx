import type { Sentence } from '@haspwright/engine'

/** What limits this order, by how much, and what to do about it. */
export function SentenceLine({ sentence: { verdict, headline, detail, action } }: { sentence: Sentence }) {
  return (
    <p className="sentence" data-verdict={verdict} aria-live="polite">
      <strong>
        {headline}
        {detail === '' ? '.' : ':'}
      </strong>{' '}
      {detail.charAt(0).toLowerCase() + detail.slice(1)} {action}
    </p>
  )
}
