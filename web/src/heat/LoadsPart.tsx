import { type DesignPlan, formatMinutes, formatNumber, type WorksPlan } from '@haspwright/engine'
import { NoticeList } from '../sheet/NoticeList.tsx'
import { hardenedDesigns } from './heat-inputs.ts'
import type { ChargePlan, LoadsView } from './heat-view.ts'
import { useLoads } from './use-heat.ts'

/** Which lots of the order share a furnace charge, how few charges there can be, and what each takes. */
export function LoadsPart({ plan, designs }: { plan: WorksPlan; designs: readonly DesignPlan[] }) {
  const loads = useLoads(plan.lots, hardenedDesigns(designs), plan.works)
  return (
    <section className="sheet-part heat-part" aria-labelledby="heat-loads" aria-busy={loads.isFetching}>
      <h3 id="heat-loads">Furnace charges of the order</h3>
      {loads.isError ? <p className="short">The charges could not be worked out: {loads.error.message}</p> : null}
      {loads.data === undefined ? null : <Planned loads={loads.data} />}
    </section>
  )
}

function Planned({ loads: { plan, recipes, heats, left } }: { loads: LoadsView }) {
  const missing = [...new Set(heats.flatMap((heat) => (heat.ok ? [] : [heat.because])))]
  return (
    <>
      {plan.ok ? (
        <>
          <p>
            <strong>{countWords(plan.output)}</strong> Furnace time {formatMinutes(plan.output.totalMinutes)}.{' '}
            {plan.output.shared.length === 0
              ? 'No lot shares a charge with another: a fault in one charge reaches one lot.'
              : `A fault in one charge reaches ${plan.output.shared.length} lots that share one.`}
          </p>
          <Charges plan={plan.output} heats={heats} />
          <ul className="small plot-words">
            {recipes.map(({ recipe, words }) => (
              <li key={recipe}>
                {recipe}: {words}
              </li>
            ))}
          </ul>
          <NoticeList notices={[...plan.notices, ...heats.flatMap((heat) => (heat.ok ? heat.notices : []))]} />
        </>
      ) : (
        <p>Not known yet: {plan.because}</p>
      )}
      {missing.map((because) => (
        <p key={because}>Energy and warming of the bath not known yet: {because}</p>
      ))}
      {left.map(({ design, because }) => (
        <p key={design}>
          Charges of {design} not known yet: {because}
        </p>
      ))}
    </>
  )
}

function countWords({ loads, lowerBound, proven }: ChargePlan): string {
  const charges = loads === 1 ? '1 charge' : `${loads} charges`
  if (proven) return `${charges}, proven: no plan needs fewer.`
  return `${charges}; no plan needs fewer than ${lowerBound}, fewer than ${loads} are not ruled out.`
}

function Charges({ plan, heats }: { plan: ChargePlan; heats: LoadsView['heats'] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="table-scroll" tabIndex={0} aria-label="Charges and lots">
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">Charge</th>
            <th scope="col">Lots in it</th>
            <th scope="col" className="right">
              Mass
            </th>
            <th scope="col" className="right">
              Energy <small>bath warms by</small>
            </th>
          </tr>
        </thead>
        <tbody>
          {plan.charges.map(({ recipe, times, lots, massKg, massPercent, volumePercent }, i) => {
            const heat = heats[i]
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: charges stand in the order of the plan
              <tr key={i}>
                <th scope="row">{times === 1 ? recipe : `${recipe}, ${times} times`}</th>
                <td className="charge-lots">
                  {lots.map(({ lot, parts }) => (
                    <span key={lot} className="figure">
                      {lot}: {parts}
                    </span>
                  ))}
                </td>
                <td className="figure right">
                  {formatNumber(massKg, 3)} kg
                  <small className="quiet">
                    {formatNumber(Math.max(massPercent, volumePercent), 2)} % full by{' '}
                    {massPercent >= volumePercent ? 'mass' : 'room'}
                  </small>
                </td>
                <HeatCell heat={heat} />
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

function HeatCell({ heat }: { heat: LoadsView['heats'][number] | undefined }) {
  if (!heat?.ok) return <td className="right">not known yet</td>
  const { energyKWh, bathRiseK, bathEndC, withinLimit } = heat.output
  return (
    <td className="figure right">
      {formatNumber(energyKWh, 3)} kWh
      <small className={withinLimit ? 'quiet' : 'short'}>
        {formatNumber(bathRiseK, 2)} K to {formatNumber(bathEndC, 3)} °C{withinLimit ? '' : ', too warm'}
      </small>
    </td>
  )
}
