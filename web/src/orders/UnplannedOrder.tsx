import type { PlannedOrder } from '@haspwright/server/client'
import { usePlanAgain } from '../api/orders.ts'
import { useMay } from '../api/people.ts'
import { WhyNot } from '../people/WhyNot.tsx'
import { IssueList } from '../sheet/IssueList.tsx'
import { WorkLine } from '../work/WorkLine.tsx'
import { asksForNewCodes, NewCodesQuestion } from './NewCodesQuestion.tsx'
import { OrderTitle } from './OrderTitle.tsx'

/** An order that has no plan: because one is being made, or because designs and works do not allow one yet. */
export function UnplannedOrder({ planned: { order, planState, issues } }: { planned: PlannedOrder }) {
  const plan = usePlanAgain(order.id)
  const plans = useMay('orders.write')
  return (
    <div className="page">
      <OrderTitle order={order} />
      {plan.isPending ? (
        <WorkLine job={plan.work.job} what="Planning the order" onStop={plan.work.stop} />
      ) : planState === 'planning' ? (
        <p role="status">The plan is being made …</p>
      ) : (
        <div className="message">
          <p>
            {issues.length > 0
              ? 'This order cannot be planned as designs and works stand now.'
              : 'This order has no plan yet.'}
          </p>
          {plans ? (
            <button type="button" className="button primary" onClick={() => plan.mutate(undefined)}>
              Plan it {issues.length > 0 ? 'again' : 'now'}
            </button>
          ) : (
            <WhyNot permission="orders.write" />
          )}
        </div>
      )}
      <NewCodesQuestion error={plan.error} isPending={plan.isPending} onAnswer={plan.mutate} />
      {plan.isError && !plan.work.isStopped && !asksForNewCodes(plan.error) ? (
        <p className="short" role="alert">
          {plan.error.message}
        </p>
      ) : null}
      {issues.length > 0 ? <IssueList issues={issues} title="What is in the way" /> : null}
    </div>
  )
}
