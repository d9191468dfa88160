import { formatFixed } from '@haspwright/engine'
import type { HeatOfAnalysis } from './heat-view.ts'
import { type Hardness, type NamedPlace, namedPlaces } from './section-words.ts'

/** The section in words: surface, mid-radius and centre, each with least and most; an upper bound is called one. */
export function HardnessTable({ heat }: { heat: HeatOfAnalysis }) {
  return (
    <table className="sheet-table heat-table">
      <thead>
        <tr>
          <th scope="col">
            Place <small className="quiet">HRC</small>
          </th>
          <th scope="col" className="right">
            As quenched <small>lean – rich analysis</small>
          </th>
          <th scope="col" className="right">
            Tempered <small>least – most</small>
          </th>
          <th scope="col">Kind</th>
        </tr>
      </thead>
      <tbody>
        {namedPlaces(heat).map((place) => (
          <PlaceRow key={place.name} place={place} />
        ))}
      </tbody>
    </table>
  )
}

function PlaceRow({ place: { name, quenched, tempered } }: { place: NamedPlace }) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <HardnessCell hardness={quenched} />
      <HardnessCell hardness={tempered} />
      <td>{tempered === undefined ? 'not known yet' : tempered.basis}</td>
    </tr>
  )
}

function HardnessCell({ hardness }: { hardness: Hardness | undefined }) {
  if (hardness === undefined) return <td className="figure right">—</td>
  const { hrc, lowHrc, highHrc } = hardness
  return (
    <td className="figure right">
      {formatFixed(hrc, 1)}
      <small className="quiet">
        {one(lowHrc)} – {one(highHrc)}
      </small>
    </td>
  )
}

const one = (hrc: number | undefined) => (hrc === undefined ? 'not given' : formatFixed(hrc, 1))
