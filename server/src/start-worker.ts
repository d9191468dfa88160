import { JobWorker, type JobWorkerOptions } from './jobs/job-worker.ts'
import { provideMachineCipher } from './planning/machine-cipher.ts'
import { ThreadedPlanner } from './planning/threaded-planner.ts'

/** Works at long jobs in threads, without a server beside. */
export function startWorker(options: Omit<JobWorkerOptions, 'planner' | 'changed'>): { close(): Promise<void> } {
  provideMachineCipher()
  const planner = new ThreadedPlanner()
  const worker = new JobWorker({ ...options, planner })
  worker.start()
  return {
    async close() {
      await worker.close()
      await planner.close()
    },
  }
}
