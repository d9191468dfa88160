import { useState } from 'react'
import { useOrder, useOrders } from '../api/orders.ts'
import { chartTextOf } from './chart-order-text.ts'

/** Takes keys and locks by name from a line of a stored order that is under masters. */
export function FromOrder({ onText }: { onText: (text: string, design: string) => void }) {
  const orders = useOrders()
  const [chosen, setChosen] = useState('')
  if (orders.data === undefined || orders.data.orders.length === 0) return null
  return (
    <div className="field">
      <label htmlFor="chart-from">Take from an order</label>
      <span className="entry">
        <select id="chart-from" value={chosen} onChange={(event) => setChosen(event.target.value)}>
          <option value="">choose an order</option>
          {orders.data.orders.map(({ id, customer }) => (
            <option key={id} value={id}>
              {id}, {customer}
            </option>
          ))}
        </select>
      </span>
      {chosen === '' ? null : <MasterLines orderId={chosen} onText={onText} />}
    </div>
  )
}

function MasterLines({ orderId, onText }: { orderId: string; onText: (text: string, design: string) => void }) {
  const order = useOrder(orderId)
  if (order.isPending)
    return (
      <p className="hint" role="status">
        Fetching the order …
      </p>
    )
  if (order.isError) return <p className="short">The order did not come: {order.error.message}</p>
  const lines = order.data.order.lines.filter(({ keying }) => keying.kind === 'master')
  if (lines.length === 0) return <p className="hint">No line of this order is under a master key.</p>
  return (
    <p className="from-order">
      {lines.map((line) => (
        <button key={line.id} type="button" className="button" onClick={() => onText(chartTextOf(line), line.design)}>
          Line {line.id}: {line.quantity} locks
        </button>
      ))}
    </p>
  )
}
