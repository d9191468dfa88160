/** A link or token that is kept nowhere: to be handed over now. */
export function ShownOnce({ title, secret }: { title: string; secret: string }) {
  return (
    <div className="shown-once" role="status">
      <strong>{title}.</strong> Shown this once and kept nowhere. Whoever has it comes in: hand it over in person or by
      a way you trust.
      <span className="figure">{secret}</span>
      <button type="button" className="button" onClick={() => void navigator.clipboard.writeText(secret)}>
        Copy
      </button>
    </div>
  )
}
