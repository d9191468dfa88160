import { formatFixed } from '@haspwright/engine'
import type { HeatOfAnalysis } from './heat-view.ts'
import { type NamedPlace, namedPlaces } from './section-words.ts'

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
            As quenched
          </th>
          <th scope="col" className="right">
            lean – rich
          </th>
          <th scope="col" className="right">
            Tempered
          </th>
          <th scope="col" className="right">
            least – most
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
      <td className="figure right">{one(quenched?.hrc)}</td>
      <td className="figure right">{range(quenched?.lowHrc, quenched?.highHrc)}</td>
      <td className="figure right">{one(tempered?.hrc)}</td>
      <td className="figure right">{range(tempered?.lowHrc, tempered?.highHrc)}</td>
      <td>{tempered === undefined ? 'not known yet' : tempered.basis}</td>
    </tr>
  )
}

const one = (hrc: number | undefined) => (hrc === undefined ? '—' : formatFixed(hrc, 1))
const range = (low: number | undefined, high: number | undefined) =>
  low === undefined && high === undefined ? 'not given' : `${low === undefined ? 'not given' : one(low)} – ${one(high)}`
