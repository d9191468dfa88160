import { drillingJob, type MachiningJob, notchingJob, programFile, type WorksPlan } from '@haspwright/engine'
import type { Paper } from '../paper.ts'
import { checkProgram } from './check-program.ts'
import { programText } from './program-text.ts'

/** The machine programs of every design, for the steps its route has; each replayed against its job before it leaves. */
export function planPrograms({ designs, works }: WorksPlan): Paper[] {
  return designs.flatMap(({ design, operations }) =>
    ([drillingJob, notchingJob] as const).flatMap((jobOf) => {
      const made = jobOf(design, works)
      return made.ok && operations.some(({ operation }) => operation === made.job.kind) ? [programPaper(made.job)] : []
    }),
  )
}

/** A program that its own check refuses is not handed out: what stands in its place says why. */
function programPaper(job: MachiningJob): Paper {
  const text = programText(job)
  const check = checkProgram(text, job)
  const path = programFile(job)
  if (check.ok) return paper(path, `Program, ${job.title}`, text)
  const because = check.issues.map(({ path: at, message, allowed = '' }) => `${at}: ${message} ${allowed}`.trimEnd())
  return paper(
    path.replace(/\.nc$/, '-refused.txt'),
    `No program, ${job.title}`,
    `The program for this step did not pass its check and is not handed out.\n\n${because.join('\n')}\n`,
  )
}

function paper(path: string, title: string, text: string): Paper {
  return {
    path,
    mediaType: 'text/plain; charset=us-ascii',
    bytes: new TextEncoder().encode(text),
    secret: false,
    title,
  }
}
