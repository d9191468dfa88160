import type { Waiting } from '@haspwright/engine'
import { RegisterTrouble, type TakenJob } from '@haspwright/register'
import { faultLog, newFault } from '../fault.ts'
import { type Ended, isJobKind, type JobKind, type JobWork } from './kinds.ts'

/** How often a job is reported: what people see, and the sign that its worker lives. */
const REPORT_MS = 500

/** Why a job is not worked at any more. */
type Stopped = 'cancelled' | 'lost' | 'given back'

/** One job while it is worked at. */
export class JobInHand {
  readonly #job: TakenJob
  readonly #log: (line: string) => void
  readonly #signal = { aborted: false }
  #stopped: Stopped | undefined
  #share = 0
  #doing = ''

  constructor(job: TakenJob, log: (line: string) => void) {
    this.#job = job
    this.#log = log
  }

  /** Works at it to its end, reporting meanwhile. @param changed told whenever others may see something new */
  async do(work: JobWork, changed: () => void): Promise<void> {
    const reporting = setInterval(() => void this.#report().finally(changed), REPORT_MS)
    try {
      await this.#end(await this.#run(work))
    } catch (cause) {
      this.#tell(cause) // the end could not be written down: when its silence is noticed, the job is done again
    } finally {
      clearInterval(reporting)
      changed()
    }
  }

  /** Stops and lets another worker have it. */
  async giveBack(): Promise<void> {
    this.#stop('given back')
    await this.#job.giveBack()
  }

  #stop(why: Stopped): void {
    this.#stopped ??= why
    this.#signal.aborted = true
  }

  async #report(): Promise<void> {
    const next = await this.#job.report(this.#share, this.#doing).catch(() => 'go on') // the database is away, the work is not
    if (next === 'cancel') this.#stop('cancelled')
    if (next === 'lost') this.#stop('lost')
  }

  /** @returns `undefined` where there is no answer: stopped, or broken */
  async #run(work: JobWork): Promise<Ended<JobKind> | undefined> {
    const { kind, request } = this.#job
    const progress = (share: number, doing: string) => {
      this.#share = share
      this.#doing = doing
    }
    try {
      if (!isJobKind(kind, work)) throw new Error(`no worker of this version knows the job ${kind}`)
      // Whoever asked for this kind of work wrote its request.
      const run = work[kind] as (request: unknown, waiting: Waiting) => Promise<Ended<JobKind> & { ok: true }>
      return { ok: true, answer: (await run(request, { signal: this.#signal, progress })) as never }
    } catch (cause) {
      if (this.#stopped !== undefined) return undefined
      if (cause instanceof RegisterTrouble) {
        this.#log(cause.message)
        return { ok: false, issues: cause.issues }
      }
      this.#tell(cause)
      return undefined
    }
  }

  async #end(ended: Ended<JobKind> | undefined): Promise<void> {
    if (this.#stopped === 'lost' || this.#stopped === 'given back') return
    // Work that came to its end before it heard of its cancelling has done what it says.
    if (ended !== undefined) await this.#job.finish(ended)
    else await this.#job.end(this.#stopped === 'cancelled' ? 'cancelled' : 'failed')
  }

  #tell(cause: unknown): void {
    this.#log(faultLog(newFault(), cause, { doing: `job ${this.#job.kind} ${this.#job.id}`, secret: true }))
  }
}
