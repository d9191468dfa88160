import type { OrderSummary } from '@haspwright/server/client'
import { Link } from '@tanstack/react-router'
import { useOrders } from '../api/orders.ts'
import { useMay } from '../api/people.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { Waiting } from '../frame/Waiting.tsx'
import { WhyNot } from '../people/WhyNot.tsx'
import { IssueList } from '../sheet/IssueList.tsx'
import { dayWords } from './dates.ts'
import { HandIn } from './HandIn.tsx'
import './order-page.css'

/** All orders, each with the one sentence that tells where it stands. */
export function OrdersPage() {
  const orders = useOrders()
  const handsIn = useMay('orders.write')
  usePageTitle('Orders')
  if (orders.isPending) return <Waiting what="the orders" />
  if (orders.isError) return <FaultPage error={orders.error} retry={() => void orders.refetch()} />
  return (
    <div className="page">
      <h1>Orders</h1>
      {orders.data.issues.length === 0 ? null : (
        <IssueList issues={orders.data.issues} title="These orders cannot be read" />
      )}
      {orders.data.orders.length === 0 ? (
        <p className="lead">
          There is no order yet. {handsIn ? 'Hand one in below: its works plan follows at once.' : ''}
        </p>
      ) : (
        <table className="orders-table">
          <thead>
            <tr>
              <th scope="col">Order</th>
              <th scope="col">Verdict</th>
              <th scope="col">What limits it</th>
              <th scope="col">Due</th>
              <th scope="col" className="right">
                Locks
              </th>
            </tr>
          </thead>
          <tbody>
            {orders.data.orders.map((order) => (
              <OrderRow key={order.id} order={order} />
            ))}
          </tbody>
        </table>
      )}
      {orders.hasNextPage ? (
        <p>
          <button
            type="button"
            className="button"
            disabled={orders.isFetchingNextPage}
            onClick={() => void orders.fetchNextPage()}
          >
            {orders.isFetchingNextPage ? 'Fetching …' : 'Show earlier orders'}
          </button>
        </p>
      ) : null}
      {handsIn ? <HandIn /> : <WhyNot permission="orders.write" />}
    </div>
  )
}

function OrderRow({ order }: { order: OrderSummary }) {
  const { id, customer, due, locks, designs, sentence, planState } = order
  return (
    <tr>
      <td>
        <Link to="/orders/$orderId" params={{ orderId: id }} className="order-link tap">
          {customer}
        </Link>
        <p className="small quiet">
          {id} · {designs.join(', ')}
        </p>
      </td>
      <td>
        <VerdictMark order={order} />
      </td>
      <td className="wide">
        {sentence === undefined ? STATES[planState] : `${sentence.headline}. ${sentence.detail} ${sentence.action}`}
        {sentence !== undefined && planState !== 'current' ? <p className="small quiet">{STATES[planState]}</p> : null}
      </td>
      <td className="nowrap">{dayWords(due)}</td>
      <td className="figure right">{locks === 0 ? 'keys only' : locks}</td>
    </tr>
  )
}

const STATES: Readonly<Record<OrderSummary['planState'], string>> = {
  current: '',
  outdated: 'A design or the works has changed since: plan again.',
  planning: 'The plan is being made.',
  'not-possible': 'Cannot be planned as designs and works stand now; open it to see why.',
  none: 'Not planned yet.',
}

const VERDICTS = { holds: 'holds', 'falls-short': 'falls short', 'not-known': 'not known yet' } as const

function VerdictMark({ order: { sentence } }: { order: OrderSummary }) {
  const verdict = sentence?.verdict ?? 'not-known'
  return (
    <span className={`verdict-mark ${verdict}`}>
      <i aria-hidden="true" /> {VERDICTS[verdict]}
    </span>
  )
}
