import { getRouteApi } from '@tanstack/react-router'
import { useOrder } from '../api/orders.ts'
import { FaultPage } from '../frame/FaultPage.tsx'
import { usePageTitle } from '../frame/use-page-title.ts'
import { OrderSkeleton } from './OrderSkeleton.tsx'
import { PlannedOrder } from './PlannedOrder.tsx'
import { UnplannedOrder } from './UnplannedOrder.tsx'
import './order-page.css'

const route = getRouteApi('/orders/$orderId')

/** An order: where it stands in one sentence, its route, its margins, and the sheet of one station. */
export function OrderPage() {
  const { orderId } = route.useParams()
  const order = useOrder(orderId)
  usePageTitle(order.data === undefined ? `Order ${orderId}` : `${orderId}, ${order.data.order.customer.name}`)
  if (order.isPending) return <OrderSkeleton />
  if (order.isError) return <FaultPage error={order.error} what="order" retry={() => void order.refetch()} />
  const { plan, planState } = order.data
  if (plan === null) return <UnplannedOrder planned={order.data} />
  // A plan of other revisions starts without the figures that were tried on the old ones.
  const revisions = plan.designs.map(({ design }) => `${design.id} ${design.revision}`).join()
  return <PlannedOrder key={`${orderId} ${revisions}`} plan={plan} planState={planState} />
}
