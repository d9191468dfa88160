import { EventSourceParserStream } from 'eventsource-parser/stream'
import type { JobListing } from './wire.ts'

/** Somebody looks on while long work is done. */
export interface Watch {
  /** Told how far it is, each time that has changed. */
  readonly progress?: (job: JobListing) => void
  /** Aborted, the work is cancelled. */
  readonly signal?: AbortSignal
}

export interface JobClient {
  /** The newest long work. */
  listJobs(): Promise<readonly JobListing[]>
  /** Asks that a job stop. */
  cancelJob(id: string): Promise<JobListing>
}

type Ask = (path: string, init?: RequestInit) => Promise<Response>

/** So long until a stream that broke is asked for again. */
const AGAIN_MS = 1000
/** So often in a row until nobody is thought to be there any more. */
const MOST_FAILED = 30

export function jobClient(ask: Ask): JobClient {
  return {
    listJobs: async () => ((await (await ask('/api/jobs')).json()) as { jobs: JobListing[] }).jobs,
    cancelJob: async (id) => (await ask(placeOf(id), { method: 'DELETE' })).json() as Promise<JobListing>,
  }
}

/**
 * Sends a request that may take long. Where somebody looks on, the server answers with a job, which is followed to its end; its
 * answer is that of the request.
 */
export async function askWatched(ask: Ask, path: string, init: RequestInit, watch?: Watch): Promise<Response> {
  if (watch === undefined) return ask(path, init)
  const headers = { ...(init.headers as Record<string, string> | undefined), prefer: 'respond-async' } // ours alone are sent
  const response = await ask(path, { ...init, headers })
  if (response.status !== 202) return response
  const { id } = (await response.json()) as JobListing
  await follow(ask, id, watch)
  return ask(`${placeOf(id)}/answer`)
}

async function follow(ask: Ask, id: string, { progress = () => {}, signal }: Watch): Promise<void> {
  const cancel = () => void ask(placeOf(id), { method: 'DELETE' }).catch(() => {}) // it has ended, or will be told as unreachable
  let failed = 0
  if (signal?.aborted) cancel()
  signal?.addEventListener('abort', cancel, { once: true })
  try {
    for (;;) {
      const answer = await ask(`${placeOf(id)}/progress`).catch((cause: unknown) => {
        if (++failed > MOST_FAILED || (cause as { kind?: unknown }).kind !== 'unreachable') throw cause
      })
      if (answer !== undefined)
        for await (const job of jobsIn(answer)) {
          failed = 0
          progress(job)
          if (!['waiting', 'working'].includes(job.state)) return
        }
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS)) // the server is started anew: the job outlives that
    }
  } finally {
    signal?.removeEventListener('abort', cancel)
  }
}

async function* jobsIn({ body }: Response): AsyncGenerator<JobListing> {
  if (body === null) return
  const reader = body.pipeThrough(new TextDecoderStream()).pipeThrough(new EventSourceParserStream()).getReader()
  try {
    for (let next = await reader.read(); !next.done; next = await reader.read())
      yield JSON.parse(next.value.data) as JobListing // as the server's route writes it
  } catch {
    // The connection broke: whoever follows asks again.
  } finally {
    await reader.cancel().catch(() => {})
  }
}

const placeOf = (id: string) => `/api/jobs/${encodeURIComponent(id)}`
