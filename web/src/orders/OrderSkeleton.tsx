/** The order's page before its plan is here: the lines stand where they will stand. */
export function OrderSkeleton() {
  return (
    <div className="order-skeleton" aria-busy="true">
      <p role="status" className="visually-hidden">
        Fetching the order …
      </p>
      <div className="skeleton-title" />
      <div className="skeleton-route" />
    </div>
  )
}
