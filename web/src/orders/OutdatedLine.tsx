import type { PlanState } from '@haspwright/server/client'
import { usePlanAgain } from '../api/orders.ts'
import { useMay } from '../api/people.ts'
import { WhyNot } from '../people/WhyNot.tsx'
import { WorkLine } from '../work/WorkLine.tsx'
import { asksForNewCodes, NewCodesQuestion } from './NewCodesQuestion.tsx'

/** Says when the plan on the page is not made from what is stored now. */
export function OutdatedLine({ orderId, planState }: { orderId: string; planState: PlanState }) {
  const plan = usePlanAgain(orderId)
  const plans = useMay('orders.write')
  if (planState === 'current') return null
  if (planState === 'planning' && !plan.isPending)
    return (
      <p className="plan-state screen-only" role="status">
        A new plan is being made; this is the last one.
      </p>
    )
  return (
    <div className="plan-state screen-only" role="status">
      {planState === 'outdated'
        ? 'A design or the works has changed since this plan was made. '
        : 'This is the last plan; with designs and works as they stand now a new one could not be made. '}
      {plans ? (
        <button type="button" className="button" disabled={plan.isPending} onClick={() => plan.mutate(undefined)}>
          {plan.isPending ? 'Planning …' : 'Plan again'}
        </button>
      ) : (
        <WhyNot permission="orders.write" />
      )}
      {plan.isPending ? <WorkLine job={plan.work.job} what="Planning the order" onStop={plan.work.stop} /> : null}
      {plan.isError && !plan.work.isStopped && !asksForNewCodes(plan.error) ? (
        <span className="short"> {plan.error.message}</span>
      ) : null}
      <NewCodesQuestion error={plan.error} isPending={plan.isPending} onAnswer={plan.mutate} />
    </div>
  )
}
