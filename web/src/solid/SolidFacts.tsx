import { formatFixed, formatNumber } from '@haspwright/engine'
import type { LockMesh, SolidReport } from '@haspwright/server/client'
import { interferenceByState, lockMass, partFacts } from './solid-facts.ts'

/** What the solids say: masses, plated areas, walls, and whether parts share room on the way from locked to open. */
export function SolidFacts({ report, mesh }: { report: SolidReport; mesh: LockMesh }) {
  const facts = partFacts(report, mesh)
  const { massG, without } = lockMass(facts)
  const { plated, walls, thinnestWall, engagement, interference } = report
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
        <section aria-labelledby="solid-plated">
          <h3 id="solid-plated">Plated area of one lock</h3>
          <dl className="facts">
            <Fact title="Shackle, before plating" figure={`${formatFixed(plated.shackleMm2 / 100, 2)} cm²`} />
            <Fact title="Body, outside" figure={`${formatFixed(plated.bodyOutsideMm2 / 100, 2)} cm²`} />
            <Fact title="Body, bores" figure={`${formatFixed(plated.boresMm2 / 100, 2)} cm²`} />
          </dl>
        </section>
        <section aria-labelledby="solid-walls">
          <h3 id="solid-walls">Walls of the body, thinnest first</h3>
          <ul className="solid-list">
            {walls.slice(0, 4).map(({ between, thicknessMm }) => (
              <li key={between.join()}>
                <span>{between.join(' – ')}</span> <span className="figure">{formatFixed(thicknessMm, 2)} mm</span>
              </li>
            ))}
          </ul>
          {thinnestWall === null ? null : (
            <p className={thinnestWall.holds ? 'holds-words' : 'short'}>
              {thinnestWall.holds ? 'Holds' : 'Falls short'}: at least {formatNumber(thinnestWall.limitMm, 3)} mm is
              asked at nominal sizes; the margins count tolerances too.
            </p>
          )}
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
      <p className="small quiet solid-notice">{report.notice}</p>
    </div>
  )
}

function Fact({ title, figure }: { title: string; figure: string }) {
  return (
    <div>
      <dt>{title}</dt>
      <dd className="figure">{figure}</dd>
    </div>
  )
}
