import type { Command } from './command.ts'

/** A word after `haspwright`: what the list of commands shows of it, and the way to the rest, which is loaded when it is named. */
export interface NamedCommand {
  readonly name: string
  /** One line for the list of commands. */
  readonly summary: string
  load(): Promise<Command>
}

export const commands: readonly NamedCommand[] = [
  {
    name: 'plan',
    summary: 'Plan an order: every step set, every margin judged, every sheet printed',
    load: async () => (await import('./commands/plan.ts')).plan,
  },
  {
    name: 'export',
    summary: 'Write a design as solids and drawings for other programs',
    load: async () => (await import('./commands/export.ts')).exportSolids,
  },
  {
    name: 'check',
    summary: 'Check design, order and works files',
    load: async () => (await import('./commands/check.ts')).check,
  },
  {
    name: 'program',
    summary: 'Replay a machine program (ISO 6983) against its design: every bore and notch, every move',
    load: async () => (await import('./commands/program.ts')).program,
  },
  {
    name: 'calc',
    summary: 'Run one calculation',
    load: async () => (await import('./commands/calc.ts')).calc,
  },
  {
    name: 'codes',
    summary: 'Codes given out, withdrawn, reserved, taken over and left; withdraw, reserve, release, import',
    load: async () => (await import('./commands/codes.ts')).codes,
  },
  {
    name: 'sources',
    summary: 'Every source, its status, and what rests on it',
    load: async () => (await import('./commands/sources.ts')).sources,
  },
  {
    name: 'schema',
    summary: 'JSON Schema of a design, order or works file',
    load: async () => (await import('./commands/schema.ts')).schema,
  },
  {
    name: 'serve',
    summary: 'Serve the pages and the API',
    load: async () => (await import('./commands/serve.ts')).serve,
  },
  {
    name: 'worker',
    summary: 'Work at long jobs beside the servers of a register, on this machine or another',
    load: async () => (await import('./commands/worker.ts')).worker,
  },
  {
    name: 'audit',
    summary: 'Prove that the register is whole: every event and every issue number',
    load: async () => (await import('./commands/audit.ts')).audit,
  },
  {
    name: 'backup',
    summary: 'Write the whole register to one file, under a passphrase',
    load: async () => (await import('./commands/backup.ts')).backup,
  },
  {
    name: 'verify',
    summary: 'Prove that a backup is whole, and say what is in it',
    load: async () => (await import('./commands/verify.ts')).verify,
  },
  {
    name: 'restore',
    summary: 'Bring a backup into an empty register',
    load: async () => (await import('./commands/restore.ts')).restore,
  },
  {
    name: 'works-key',
    summary: 'Replace the works key, split it on recovery sheets, put it back from them',
    load: async () => (await import('./commands/works-key.ts')).worksKey,
  },
  {
    name: 'people',
    summary: 'Let somebody in anew who lost password or second factor, on the machine of the data folder',
    load: async () => (await import('./commands/people.ts')).people,
  },
  {
    name: 'move-out',
    summary: 'Write the whole register as CSV and JSON Lines, for leaving',
    load: async () => (await import('./commands/move-out.ts')).moveOut,
  },
  {
    name: 'move-in',
    summary: 'Read what move-out wrote into an empty register',
    load: async () => (await import('./commands/move-in.ts')).moveIn,
  },
]
