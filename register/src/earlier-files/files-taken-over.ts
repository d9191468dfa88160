import { access, mkdir, rename } from 'node:fs/promises'
import { join } from 'node:path'
import { onDisk, RegisterTrouble } from '../register-trouble.ts'

/** What an earlier version kept in the data folder: documents, code spaces and reservations, who saw codes. */
const EARLIER = ['designs', 'orders', 'works', 'codes', 'access-log.jsonl'] as const
/** Where they stay when the register has them: nobody reads them there any more. */
const TAKEN_OVER = 'files-taken-over'

/** Are there files of an earlier version that the register does not have yet? */
export async function hasEarlierFiles(data: string): Promise<boolean> {
  const found = await Promise.all(EARLIER.map((name) => isThere(join(data, name))))
  return found.includes(true)
}

/** Were files of this folder taken over, even if not all of them have been put aside yet? */
export const wereTakenOver = (data: string): Promise<boolean> => isThere(join(data, TAKEN_OVER))

/**
 * Puts files that the register has now aside, unchanged. May be done again where it was broken off.
 * @throws RegisterTrouble when some stand aside already: an older copy came back, or an older version was used again
 */
export async function putAside(data: string): Promise<void> {
  const aside = join(data, TAKEN_OVER)
  for (const name of EARLIER)
    if ((await isThere(join(data, name))) && (await isThere(join(aside, name))))
      throw new RegisterTrouble(
        join(data, name),
        `Files of an earlier version stand here again, though they were taken over before (${aside}). Move them elsewhere; look into them with the version that wrote them.`,
      )
  await onDisk(aside, async () => {
    await mkdir(aside, { recursive: true })
    for (const name of EARLIER) if (await isThere(join(data, name))) await rename(join(data, name), join(aside, name))
  })
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  )
