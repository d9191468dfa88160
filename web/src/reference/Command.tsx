import type { ReactNode } from 'react'
import { useState } from 'react'
import { Typed } from './Typed.tsx'

/** A line for a shell, to be copied. */
export function Command({ title, command, corner }: { title: string; command: string; corner?: ReactNode }) {
  const [copied, setCopied] = useState(false)
  return (
    <figure className="command">
      <figcaption>
        <span>{title}</span>
        <button
          type="button"
          className="text-button screen-only"
          onClick={() => void navigator.clipboard.writeText(command).then(() => setCopied(true))}
        >
          Copy
        </button>
        <span role="status" className="small quiet">
          {copied ? 'copied' : ''}
        </span>
      </figcaption>
      <Typed label={title} text={command} />
      {corner}
    </figure>
  )
}
