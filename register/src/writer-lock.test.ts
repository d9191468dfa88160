import { existsSync, utimesSync, writeFileSync } from 'node:fs'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { temporaryFolder } from './data-folder.testing.ts'
import { withWriterLock } from './writer-lock.ts'

/** Larger than any process number of the systems we run on. */
const NO_PROCESS = 2 ** 30

function folderLockedBy(holder: object): string {
  const folder = temporaryFolder()
  writeFileSync(join(folder, 'lock'), JSON.stringify({ started: null, token: 'theirs', host: hostname(), ...holder }))
  return folder
}

describe('the lock against a second writer', () => {
  it('lets one at a time in, and is gone afterwards', async () => {
    const folder = temporaryFolder()
    let inside = 0
    let most = 0
    await Promise.all(
      Array.from({ length: 8 }, () =>
        withWriterLock(folder, async () => {
          most = Math.max(most, ++inside)
          await Promise.resolve()
          inside--
        }),
      ),
    )
    expect(most).toBe(1)
    expect(existsSync(join(folder, 'lock'))).toBe(false)
  })

  it('is given back when the work fails', async () => {
    const folder = temporaryFolder()
    await expect(withWriterLock(folder, () => Promise.reject(new Error('work failed')))).rejects.toThrow('work failed')
    expect(await withWriterLock(folder, async () => 'free')).toBe('free')
  })

  it('is taken over from a process that died', async () => {
    expect(await withWriterLock(folderLockedBy({ pid: NO_PROCESS }), async () => 'taken')).toBe('taken')
  })

  it.skipIf(process.platform !== 'linux')('is taken over when the process number was used again', async () => {
    const folder = folderLockedBy({ pid: process.pid, started: '1' })
    expect(await withWriterLock(folder, async () => 'taken')).toBe('taken')
  })

  it('is taken over when it was never filled in', async () => {
    const folder = temporaryFolder()
    writeFileSync(join(folder, 'lock'), '')
    utimesSync(join(folder, 'lock'), new Date(0), new Date(0))
    expect(await withWriterLock(folder, async () => 'taken')).toBe('taken')
  })

  it.each([
    ['a process that lives', { pid: process.pid }],
    ['another machine', { pid: NO_PROCESS, host: 'elsewhere' }],
  ])('is not taken from %s: the file and what to do are named', async (_, holder) => {
    const folder = folderLockedBy(holder)
    const refused = withWriterLock(folder, async () => 'taken', 0)
    await expect(refused).rejects.toThrow(join(folder, 'lock'))
    await expect(withWriterLock(folder, async () => 'taken', 0)).rejects.toThrow('delete this file')
    expect(existsSync(join(folder, 'lock'))).toBe(true)
  })
})
