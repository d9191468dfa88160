import { formatFixed, formatNumber } from '@haspwright/engine'
import type { DesignSolidReport, LockMesh } from '@haspwright/server/client'
import { PlatedArea } from './PlatedArea.tsx'
import { contactRows, interferenceByState, listedWalls, lockMass, partFacts } from './solid-facts.ts'

/** What the solids say: masses, plated areas, walls, and whether parts share room on the way from locked to open. */
export function SolidFacts({ report, mesh }: { report: DesignSolidReport; mesh: LockMesh }) {
  const facts = partFacts(report, mesh)
  const { massG, without } = lockMass(facts)
  const { wallLimitMm, engagement, interference } = report
  const walls = listedWalls(report)
  const short = walls.filter(({ holds }) => !holds).length
  return (
    <div className="solid-facts">
      <section aria-labelledby="solid-masses">
        <h3 id="solid-masses">Volume and mass</h3>
        <div className="solid-scroll">
          <table className="solid-table">
            <thead>
              <tr>
                <th scope="col">Part, finished</th>
                <th scope="col">Pieces</th>
                <th scope="col">Material</th>
                <th scope="col" className="number">
                  Volume, mm³
                </th>
                <th scope="col" className="number">
                  Mass of one, g
                </th>
              </tr>
            </thead>
            <tbody>
              {facts.map((each) => (
                <tr key={each.title}>
                  <th scope="row">{each.title}</th>
                  <td className="figure">{each.count}</td>
                  <td>{each.material ?? <span className="quiet">not in the design</span>}</td>
                  <td className="figure number">{formatFixed(each.volumeMm3, 0)}</td>
                  <td className="figure number">{each.massG === undefined ? '–' : formatFixed(each.massG, 2)}</td>
                </tr>
              ))}
            </tbody>
            <tfoot>
              <tr>
                <th scope="row">Lock{without === 0 ? '' : `, without ${without} pieces of unknown material`}</th>
                <td className="figure">{facts.reduce((sum, { count }) => sum + count, 0)}</td>
                <td />
                <td />
                <td className="figure number">{formatFixed(massG, 1)}</td>
              </tr>
            </tfoot>
          </table>
        </div>
      </section>
      <div className="solid-facts-side">
        <section aria-labelledby="solid-walls">
          <h3 id="solid-walls">Walls of the body, thinnest first</h3>
          <ul className="solid-list">
            {walls.map(({ between, thicknessMm, holds }) => (
              <li key={between.join()}>
                <span>{between.join(' – ')}</span>{' '}
                <span className={holds ? 'figure' : 'figure short'}>
                  {formatFixed(thicknessMm, 2)} mm{holds ? '' : ', too thin'}
                </span>
              </li>
            ))}
          </ul>
          <p className={short === 0 ? 'holds-words' : 'short'}>
            {short === 0 ? 'All hold' : `${short} ${short === 1 ? 'falls' : 'fall'} short`}: at least{' '}
            {formatNumber(wallLimitMm, 3)} mm is asked at nominal sizes; the margins count tolerances too.
          </p>
        </section>
        <section aria-labelledby="solid-room">
          <h3 id="solid-room">Do parts share room?</h3>
          <ul className="solid-list">
            {interferenceByState(report, mesh.states).map(({ state, words, clear }) => (
              <li key={state}>
                <span>{state}</span> <span className={clear ? 'holds-words' : 'short'}>{words}</span>
              </li>
            ))}
          </ul>
          <p className="small quiet">
            {formatNumber(interference.pairsChecked, 4)} pairs held against each other; up to{' '}
            {formatNumber(interference.toleranceMm3, 1)} mm³ counts as touching. Ball in the leg when locked:{' '}
            {formatFixed(engagement.modelMm, 2)} mm in the solid, {formatFixed(engagement.chainMm, 2)} mm by the chain.
          </p>
        </section>
      </div>
      <PlatedArea report={report} />
      <Contacts report={report} states={mesh.states} />
      <p className="small quiet solid-notice">{report.notice}</p>
    </div>
  )
}

/** How the parts that come near each other stand in each state: the gap, or that they touch. */
function Contacts({ report, states }: { report: DesignSolidReport; states: readonly string[] }) {
  return (
    <details className="solid-wide solid-kind">
      <summary className="tap">What touches and what clears, pair by pair</summary>
      <p className="small quiet">
        The smallest gap at nominal finished sizes, measured in the solid up to{' '}
        {formatNumber(report.interference.nearMm, 2)} mm; what stands farther is apart. Tolerances and heat are in the
        chains, not here.
      </p>
      <div className="solid-scroll">
        <table className="solid-table" aria-label="What touches and what clears">
          <thead>
            <tr>
              <th scope="col">Parts</th>
              {states.map((state) => (
                <th key={state} scope="col" className="number">
                  {state}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {contactRows(report).map(({ parts, cells }) => (
              <tr key={`${parts} ${cells.map(({ words }) => words).join()}`}>
                <th scope="row">{parts}</th>
                {cells.map(({ words, short }, i) => (
                  <td key={states[i]} className={short ? 'figure number short' : 'figure number'}>
                    {words}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}
