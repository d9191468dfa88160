import type { Issue } from '@haspwright/engine'
import type { Arguments, Option } from './arguments.ts'

const MOST_JOBS = 64

export const jobsOption: Option = {
  name: 'jobs',
  value: 'N',
  help: 'Long jobs to work at at a time; else JOBS, else as many as there are processors',
}

/** How many jobs at a time; `undefined` where nothing is said. */
export function jobsAtOnce(
  given: Arguments,
  environment: NodeJS.ProcessEnv,
  { least }: { least: 0 | 1 },
):
  | { readonly ok: true; readonly jobs: number | undefined }
  | { readonly ok: false; readonly issues: readonly Issue[] } {
  const text = given.text('jobs') ?? (environment['JOBS'] || undefined)
  if (text === undefined) return { ok: true, jobs: undefined }
  const jobs = /^[0-9]{1,3}$/.test(text) ? Number(text) : Number.NaN
  if (jobs >= least && jobs <= MOST_JOBS) return { ok: true, jobs }
  return {
    ok: false,
    issues: [
      {
        path: '--jobs',
        code: 'out-of-range',
        message: 'This is no number of jobs.',
        value: text.slice(0, 80),
        allowed: `whole number, ${least} to ${MOST_JOBS}`,
      },
    ],
  }
}
