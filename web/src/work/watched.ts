import type { JobListing, Watch } from '@haspwright/server/client'
import { type QueryClient, type QueryKey, skipToken, useQuery } from '@tanstack/react-query'
import { useRef, useState } from 'react'

/** Long work that this page asked for: how far it is, and the way to stop it. */
export interface WatchedWork {
  /** Absent before the server has taken it on, and after its end. */
  readonly job: JobListing | undefined
  /** It was stopped from here. */
  readonly isStopped: boolean
  begin(): Watch
  end(): void
  stop(): void
}

/** Looks on while the server works at what this page asked for. */
export function useWatchedWork(): WatchedWork {
  const [job, setJob] = useState<JobListing>()
  const [isStopped, setStopped] = useState(false)
  const stopping = useRef<AbortController>(undefined)
  return {
    job,
    isStopped,
    begin() {
      const controller = new AbortController()
      stopping.current = controller
      setStopped(false)
      return { progress: setJob, signal: controller.signal }
    },
    end: () => setJob(undefined),
    stop() {
      setStopped(true)
      stopping.current?.abort()
    },
  }
}

const workKey = (queryKey: QueryKey) => ['work', ...queryKey]

/** Tells the pages how far the work behind a query is. */
export function watching(queries: QueryClient, queryKey: QueryKey): Watch {
  return { progress: (job) => queries.setQueryData(workKey(queryKey), job) }
}

/** The work behind a query, while the server is at it. */
export function useWorkBehind(queryKey: QueryKey): JobListing | undefined {
  const { data } = useQuery<JobListing>({ queryKey: workKey(queryKey), queryFn: skipToken })
  return data?.state === 'waiting' || data?.state === 'working' ? data : undefined
}
