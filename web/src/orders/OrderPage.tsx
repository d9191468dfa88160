import { getRouteApi } from '@tanstack/react-router'
import { useOrder } from '../api/orders.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { OrderSkeleton } from './OrderSkeleton.tsx'
import { PlannedOrder } from './PlannedOrder.tsx'
import { UnplannedOrder } from './UnplannedOrder.tsx'
import './order-page.css'

const route = getRouteApi('/orders/$orderId')

/** An order: where it stands in one sentence, its route, its margins, and the sheet of one station. */
export function OrderPage() {
  const { orderId } = route.useParams()
  const order = useOrder(orderId)
  if (order.isPending) return <OrderSkeleton />
  if (order.isError) return <FaultPage error={order.error} what="order" retry={() => void order.refetch()} />
  const { plan, planState } = order.data
  if (plan === null) return <UnplannedOrder planned={order.data} />
  // A plan made anew starts without the figures that were tried on the old one.
  return (
    <PlannedOrder
      key={`${orderId} ${order.dataUpdatedAt === 0 ? '' : JSON.stringify(plan.designs.map(({ design }) => design.revision))}`}
      plan={plan}
      planState={planState}
    />
  )
}
