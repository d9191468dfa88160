import type { Contents } from './moved-files.ts'

/** What the tables hold, in words, for whoever opens the folder without Haspwright. */
const WORDS: Readonly<Record<string, string>> = {
  works: 'the works whose register this is',
  designs: 'designs of locks, every version; content as the schema of a design says',
  orders: 'orders, every version',
  works_documents: 'what the works states of itself, every version',
  events:
    'all that happened, in a chain: hash is SHA-256 over the hash before and each field behind its length in bytes',
  event_heads: 'the end of the chain of each works',
  works_keys: 'generations of the works key: how each is told from others; earlier keys sealed under the next',
  code_spaces: 'code spaces, and which of their issue numbers were given or passed over',
  reservations: 'which orders have codes',
  reservation_lines: 'the same by line; mastered: places of the keys of locks that several open',
  draws: 'requests that drew codes',
  code_acts: 'numbers withdrawn, reserved and taken over; who and why stand in the event',
  codes: 'every issue number that is not free, and what became of it',
  earlier_codes: 'codes from before the tool, sealed under the works key',
  sealed_documents: 'charts, sealed under the works key',
  locks: 'locks with the blind codes they were delivered under',
  keys: 'keys with their blind codes',
  people: 'people of the works',
  person_roles: 'what each may do',
  invitations: 'links that let in: their hashes alone',
  service_tokens: 'tokens of other programs: their hashes alone',
  lots: 'lots',
  lots_in_hand: 'who has which lot in hand',
  loads: 'furnace loads, racks and barrels',
  genealogy: 'what came of what, from the heat of steel to the lock',
  operations: 'steps done on lots',
  measurements: 'measured values',
  findings: 'predicted values held against limits',
  releases: 'lots released, by whom',
  replacement_requests: 'replacement keys asked for and decided',
  renewal_requests: 'who was let in anew by which two people',
  accounts: 'accounts that sign in',
  account_credentials: 'hashes of passwords',
  account_second_factors: 'second factors, enciphered',
  account_passkeys: 'public parts of passkeys',
}

/** The README of a folder of a register that moves. */
export function readmeOf({ at, program, tables }: Contents): string {
  const width = Math.max(...tables.map(({ file }) => file.length))
  return [
    `The register of a works, as it was at ${at}, written by Haspwright ${program}.`,
    '',
    'CSV: RFC 4180, UTF-8, the first line names the columns; an empty field is unknown, "" is empty text.',
    'JSON Lines: UTF-8, one JSON object a line, by column; bytes as hexadecimal digits behind \\x, sets of numbers as ranges.',
    'Times are coordinated universal time. works_id leads every row.',
    '',
    ...tables.map(({ table, file, rows }) =>
      `${file.padEnd(width)}  ${String(rows).padStart(9)}  ${WORDS[table] ?? table.replaceAll('_', ' ')}`.trimEnd(),
    ),
    '',
    'contents.json lists the files with their rows and SHA-256. haspwright move-in reads the folder into an empty register.',
    'No cut of any key is in it. Codes stand by issue number and blind code; cuts follow from them with the works key, which is',
    'not here: keep it apart. Who is signed in, and how often somebody tried, is not here either.',
    'It is not enciphered and names people: keep it where others cannot read it.',
    '',
  ].join('\n')
}
