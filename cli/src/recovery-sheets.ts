import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import { RegisterTrouble, writeWhole } from '@haspwright/register'
import type { Terminal } from './terminal.ts'

const LINE = 32
const GROUP = 4

/** Writes recovery sheets into a folder, each readable by its owner alone, or shows them. No sheet is written over. */
export async function writeSheets(
  texts: readonly string[],
  { needed, out }: { needed: number; out: string | undefined },
  terminal: Terminal,
): Promise<void> {
  const sheets = texts.map((text, i) => ({
    name: `recovery-sheet-${i + 1}-of-${texts.length}.txt`,
    text: sheetOf(text, { number: i + 1, sheets: texts.length, needed }),
  }))
  if (out === undefined) return terminal.out(sheets.map(({ text }) => text).join('\f'))
  for (const { name } of sheets)
    if ((await stat(join(out, name)).catch(() => undefined)) !== undefined)
      throw new RegisterTrouble(join(out, name), 'There is a sheet of this name already. Take another folder.')
  for (const { name, text } of sheets) await writeWhole(join(out, name), text, 0o600)
  await terminal.out(
    `${sheets.length} sheets are in ${out}. Print each, give it to another person, and destroy the files.\n`,
  )
}

/** One sheet as it is printed. Its text is broken into groups, so that it can be typed; spaces and line ends do not count. */
function sheetOf(text: string, { number, sheets, needed }: { number: number; sheets: number; needed: number }): string {
  const [form = '', check = '', share = '', sum = ''] = text.split('-')
  const lines = share.match(new RegExp(`.{1,${LINE}}`, 'g')) ?? []
  const grouped = lines.map((line) => `  ${(line.match(new RegExp(`.{1,${GROUP}}`, 'g')) ?? []).join(' ')}`)
  return [
    `RECOVERY SHEET ${number} OF ${sheets}`,
    '',
    `Any ${needed} of the ${sheets} sheets together give the works key back; fewer tell nothing about it.`,
    'Secret. Keep it locked away, apart from the other sheets and from every backup. Make no copy or picture of it.',
    'When the works key is replaced, keep this sheet as long as backups from before are kept, then destroy it.',
    '',
    `Works key ${check}`,
    '',
    `  ${form}-${check}-`,
    ...grouped,
    `  -${sum}`,
    '',
    'To put the key back: haspwright works-key recover, with the text between the empty lines of each sheet as one line.',
    '',
  ].join('\n')
}
