import { JobDesk } from './job-desk.ts'
import { JobWorker, type JobWorkerOptions } from './job-worker.ts'

/** A desk whose work is done here as soon as it is asked for; it looks for none by itself. */
export function deskWithWorker(options: Omit<JobWorkerOptions, 'changed'>): JobDesk & { close(): Promise<void> } {
  const desk = new JobDesk(options.register.jobs)
  const worker = new JobWorker({ ...options, changed: (id) => desk.changed(id) })
  desk.onAsked = () => worker.wake()
  return Object.assign(desk, { close: () => worker.close() })
}
