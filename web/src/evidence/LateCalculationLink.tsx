import { lazy, Suspense } from 'react'

const CalculationLink = lazy(async () => ({ default: (await import('./CalculationLink.tsx')).CalculationLink }))

/** The same link for pages that open without the engine: the list of calculations, which knows the titles, comes after the page. */
export function LateCalculationLink({ id, input }: { id: string; input: unknown }) {
  return (
    <Suspense fallback={null}>
      <CalculationLink id={id} input={input} />
    </Suspense>
  )
}
