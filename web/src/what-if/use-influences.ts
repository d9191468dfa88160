import type { Design, DesignDemand, Works } from '@haspwright/engine'
import { useQuery } from '@tanstack/react-query'
import type { Influences } from './influence.ts'

/** Which figures the margins of each operation rest on; worked out once for a design. */
export function useInfluences(design: Design, works: Works, demand: DesignDemand, wanted: boolean) {
  return useQuery({
    queryKey: ['influences', design, works, demand],
    queryFn: ({ signal }) => askWorker({ design, works, demand }, signal),
    enabled: wanted,
    staleTime: Number.POSITIVE_INFINITY,
  })
}

function askWorker(
  question: { design: Design; works: Works; demand: DesignDemand },
  signal: AbortSignal,
): Promise<Influences> {
  const worker = new Worker(new URL('./influence.worker.ts', import.meta.url), { type: 'module' })
  return new Promise<Influences>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<Influences>) => resolve(data)
    worker.onerror = (event) => reject(new Error(event.message))
    signal.addEventListener('abort', () => reject(signal.reason))
    worker.postMessage(question)
  }).finally(() => worker.terminate())
}
