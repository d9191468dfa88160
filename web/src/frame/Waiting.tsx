/** Holds the room of a page while its content is fetched; words appear only when it takes long. */
export function Waiting({ what }: { what: string }) {
  return (
    <div className="page waiting" aria-busy="true">
      <p role="status">Fetching {what} …</p>
    </div>
  )
}
