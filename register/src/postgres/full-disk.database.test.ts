import { spawnSync } from 'node:child_process'
import { closeSync, existsSync, openSync, rmSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { RegisterTrouble } from '../register-trouble.ts'

const mount = (...words: string[]) => spawnSync('mount', words).status === 0

/** A disk of its own in memory; `undefined` where this machine lets us make none. */
function smallDisk(options: string): string | undefined {
  const folder = temporaryFolder()
  if (!mount('-t', 'tmpfs', '-o', options, 'tmpfs', folder)) return undefined
  onTestFinished(() => {
    spawnSync('umount', ['-l', folder])
  })
  return folder
}

/** Takes all the room that is left on a disk. */
function fill(file: string): void {
  const handle = openSync(file, 'w')
  for (const size of [1 << 20, 1 << 12])
    for (;;)
      try {
        if (writeSync(handle, Buffer.alloc(size, 1)) < size) break
      } catch {
        break
      }
  closeSync(handle)
}

const troubleOf = (work: Promise<unknown>) =>
  work.then(
    () => undefined,
    (cause: unknown) => cause,
  )

describe.skipIf(process.platform !== 'linux' || process.getuid?.() !== 0)('a disk', () => {
  it('that is too small for a database is told, and opens when there is room', async (test) => {
    const data = smallDisk('size=20m')
    if (data === undefined) return test.skip()
    const trouble = await troubleOf(openRegister(data, { environment: {} }))
    expect(trouble).toBeInstanceOf(RegisterTrouble)
    expect(String(trouble)).toContain('The disk is full. Make room and try again.')
    expect(existsSync(join(data, 'database', 'cluster'))).toBe(false)
    mount('-o', 'remount,size=200m', data)
    await (await openRegister(data, { environment: {} })).close()
  })

  it('that can only be read is told', async (test) => {
    const data = smallDisk('size=20m,ro')
    if (data === undefined) return test.skip()
    const trouble = await troubleOf(openRegister(data, { environment: {} }))
    expect(trouble).toBeInstanceOf(RegisterTrouble)
    expect(String(trouble)).toContain('a disk that can only be read')
  })

  it('that fills up loses nothing that was acknowledged, says so, and goes on when there is room', async (test) => {
    const data = smallDisk('size=120m')
    if (data === undefined) return test.skip()
    const register = await openRegister(data, { environment: {} })
    onTestFinished(() => register.close())
    const filler = join(data, 'filler')
    fill(filler)
    let acknowledged = 0
    let trouble: unknown
    const reason = 'x'.repeat(500_000)
    while (trouble === undefined && acknowledged < 200) {
      trouble = await troubleOf(register.access.record({ who: 'A', reason: `${acknowledged} ${reason}` }))
      if (trouble === undefined) acknowledged++
    }
    expect(trouble).toBeInstanceOf(RegisterTrouble)
    expect(String(trouble)).toMatch(/disk of the database is full|cannot be reached/)
    rmSync(filler)
    let entries: readonly unknown[] | undefined
    while (entries === undefined)
      entries = await register.access.entries().catch((cause: unknown) => {
        expect(cause).toBeInstanceOf(RegisterTrouble) // the server ended where it could not write its log: it is started again
        return undefined
      })
    expect(entries.length).toBe(acknowledged)
    await register.access.record({ who: 'A', reason: 'there is room again' })
    expect(await register.audit()).toMatchObject({ whole: true, events: BigInt(acknowledged + 1) })
  })
})
