/** Text as it is typed or sent. What scrolls sideways is reached by the keyboard. */
export function Typed({ label, text }: { label: string; text: string }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: the keyboard scrolls what it can stand on
    <section className="typed" aria-label={label} tabIndex={0}>
      <pre>{text}</pre>
    </section>
  )
}
