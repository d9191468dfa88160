import type { Design, PlanInput, PlanResult, WorksPlan } from '@haspwright/engine'
import { keepPreviousData, useQuery } from '@tanstack/react-query'

/** How long figures must stand still before the whole order is planned with them. */
const STANDS_STILL_MS = 150

/**
 * The whole order planned with the designs tried: what rests on bars, lots and dates follows them too. Until the latest figures are planned,
 * the plan of those before is given, with `isPlanning`; there is none before the first is done.
 */
export function useReplanned(plan: WorksPlan, changed: ReadonlyMap<string, Design>) {
  const { data, isFetching } = useQuery({
    queryKey: ['replanned', plan.order, [...changed.values()], plan.works],
    queryFn: ({ signal }) => planInWorker(tried(plan, changed), signal),
    enabled: changed.size > 0,
    placeholderData: keepPreviousData,
    staleTime: Number.POSITIVE_INFINITY,
    gcTime: 60_000,
  })
  if (changed.size === 0) return { replanned: undefined, isPlanning: false }
  return { replanned: data?.ok === true ? data.plan : undefined, isPlanning: isFetching }
}

function tried({ order, works, designs }: WorksPlan, changed: ReadonlyMap<string, Design>): PlanInput {
  return { order, works, designs: designs.map(({ design }) => changed.get(design.id) ?? design) }
}

async function planInWorker(question: PlanInput, signal: AbortSignal): Promise<PlanResult> {
  await new Promise((resolve) => setTimeout(resolve, STANDS_STILL_MS))
  signal.throwIfAborted()
  const worker = new Worker(new URL('./replan.worker.ts', import.meta.url), { type: 'module' })
  return new Promise<PlanResult>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<PlanResult>) => resolve(data)
    worker.onerror = (event) => reject(new Error(event.message))
    signal.addEventListener('abort', () => reject(signal.reason))
    worker.postMessage(question)
  }).finally(() => worker.terminate())
}
