import { dataFolder, openRegister } from '@haspwright/register'
import { startWorker } from '@haspwright/server'
import { type Command, tooManyWords } from '../command.ts'
import { dataOption } from '../data-option.ts'
import { jobsAtOnce, jobsOption } from '../jobs-option.ts'

/** Works at the long jobs that servers over the same database are asked for, until stopped. */
export const worker: Command = {
  usage: '[--jobs N] [--data DIR]',
  options: [jobsOption, dataOption],
  notes: [
    'On another machine: DATABASE_URL names the database, and the works key is the one of the servers (HASPWRIGHT_WORKS_KEY,',
    'a command that prints it, or a copy of works.key in the data folder).',
    'Stopped, it gives back what it is working at; killed, the others find it after some seconds. Nothing is lost or done twice.',
  ],

  async run(given, terminal) {
    const { environment } = terminal
    const asked = jobsAtOnce(given, environment, { least: 1 })
    const extra = tooManyWords(given.words, 0)
    if (!asked.ok || extra.length > 0) return [...(asked.ok ? [] : asked.issues), ...extra]
    const data = dataFolder(given.text('data'), environment)
    const register = await openRegister(data, { environment, makesKey: false })
    try {
      await register.worksKey() // without it nothing can be worked at: said now, not at the first job
      const working = startWorker({
        register,
        log: (line) => terminal.err(`${line}\n`),
        ...(asked.jobs === undefined ? {} : { atOnce: asked.jobs }),
      })
      await terminal.out('Working at the jobs of this register. Stop with Ctrl-C.\n')
      await new Promise<void>((resolve) => terminal.onStop(resolve))
      await working.close()
      return 'done'
    } finally {
      await register.close()
    }
  },
}
