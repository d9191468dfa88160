import { type Design, formatNumber } from '@haspwright/engine'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { coldInput } from './heat-inputs.ts'
import type { ColdAnswer, HeatView } from './heat-view.ts'

/** What is known of toughness at the coldest use: what was read, and otherwise what to test. */
export function ColdPart({ view, design }: { view: HeatView; design: Design }) {
  const { useC } = coldInput(design)
  return (
    <section className="sheet-part heat-part" aria-labelledby="heat-cold">
      <h3 id="heat-cold">Toughness at {formatNumber(useC)} °C</h3>
      {view.cold.ok ? (
        <>
          <p>
            <strong>
              {view.cold.output.answer === 'known'
                ? `Known: ${formatNumber(view.cold.output.kvJ ?? 0)} J, measured on the card.`
                : 'Not known: test.'}
            </strong>{' '}
            {view.cold.output.advice}
          </p>
          <Figures figures={view.cold.output.figures} />
          <NoticeList notices={[...view.cold.notices, ...view.cold.output.embrittling]} />
        </>
      ) : (
        <p>Not known yet: {view.cold.because}</p>
      )}
    </section>
  )
}

function Figures({ figures }: { figures: ColdAnswer['figures'] }) {
  if (figures.length === 0) return <p className="quiet">No impact energy of this steel was read.</p>
  return (
    <table className="sheet-table">
      <caption className="label">What was read; none of it is carried over to another temperature or steel</caption>
      <thead>
        <tr>
          <th scope="col">Kind</th>
          <th scope="col" className="right">
            Impact energy
          </th>
          <th scope="col" className="right">
            Tested at
          </th>
          <th scope="col">Condition and source</th>
        </tr>
      </thead>
      <tbody>
        {figures.map(({ kind, kvJ, kvHighJ, testedAtC, condition, source }) => (
          <tr key={`${kind} ${kvJ} ${testedAtC} ${condition}`}>
            <th scope="row">{kind}</th>
            <td className="figure right">
              {formatNumber(kvJ)}
              {kvHighJ === undefined ? '' : `–${formatNumber(kvHighJ)}`} J
            </td>
            <td className="figure right">{formatNumber(testedAtC)} °C</td>
            <td>
              {condition}
              <small className="quiet">{source}</small>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
