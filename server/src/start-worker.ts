import { JobWorker, type JobWorkerOptions } from './jobs/job-worker.ts'
import { HandingPlanner } from './planning/handing-planner.ts'
import { provideMachineCipher } from './planning/machine-cipher.ts'

/** Works at long jobs in threads, without a server beside. */
export function startWorker(options: Omit<JobWorkerOptions, 'planner' | 'changed'>): { close(): Promise<void> } {
  provideMachineCipher()
  const planner = new HandingPlanner()
  const worker = new JobWorker({ ...options, planner })
  worker.start()
  return {
    async close() {
      await worker.close()
      await planner.close()
    },
  }
}
