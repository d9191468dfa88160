import './title-block.css'

/** The corner of a sheet: what it shows, of which design and revision. On screen and on paper alike. */
export function TitleBlock({ cells }: { cells: readonly (readonly [label: string, value: string])[] }) {
  return (
    <dl className="title-block">
      {cells.map(([label, value]) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  )
}
