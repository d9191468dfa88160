import { chmodSync, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it, onTestFinished } from 'vitest'
import { temporaryFolder } from './data-folder.testing.ts'
import { type OpenOptions, openRegister } from './open-register.ts'
import { sharedDatabase, someWorks } from './postgres/test-database.testing.ts'

async function opened(data: string, more: NodeJS.ProcessEnv = {}, other: OpenOptions = {}) {
  const environment = { ...sharedDatabase().environment, ...more }
  const register = await openRegister(data, { environment, worksId: someWorks(), ...other })
  onTestFinished(() => register.close())
  return register
}

// That it is made once, and not anew where codes were given out with one that is missing, stands with the contracts.
describe('the works key', () => {
  it('is made in a file that only its owner can read, and told to whoever must put a copy away', async () => {
    const data = temporaryFolder()
    const told: string[] = []
    const register = await opened(data, {}, { onNewKey: (file) => told.push(file) })
    const [first, second] = await Promise.all([register.worksKey(), register.worksKey()])
    expect(first).toMatch(/^[0-9a-f]{64}$/)
    expect(second).toBe(first)
    expect(told).toEqual([join(data, 'works.key')])
    expect(statSync(join(data, 'works.key')).mode & 0o777).toBe(0o600)
  })

  it('is taken from the environment before the file, and then makes no file', async () => {
    const data = temporaryFolder()
    const key = 'AB'.repeat(16)
    const register = await opened(data, { HASPWRIGHT_WORKS_KEY: key })
    expect(await register.worksKey()).toBe(key.toLowerCase())
    expect(existsSync(join(data, 'works.key'))).toBe(false)
  })

  it('is refused, without a word of it, when it is no key', async () => {
    const data = temporaryFolder()
    const wrong = await opened(data, { HASPWRIGHT_WORKS_KEY: 'cafe-not-a-key' })
    await expect(wrong.worksKey()).rejects.toThrow('hexadecimal')
    await expect(wrong.worksKey()).rejects.not.toThrow('cafe')
    writeFileSync(join(data, 'works.key'), 'cafebabe\n', { mode: 0o600 })
    const broken = await opened(data)
    await expect(broken.worksKey()).rejects.toThrow('works.key')
    await expect(broken.worksKey()).rejects.not.toThrow('cafebabe')
    expect(readFileSync(join(data, 'works.key'), 'utf8')).toBe('cafebabe\n')
  })

  it.skipIf(process.platform === 'win32')('is refused while others can read its file', async () => {
    const data = temporaryFolder()
    const register = await opened(data)
    await register.worksKey()
    chmodSync(join(data, 'works.key'), 0o644)
    await expect(register.worksKey()).rejects.toThrow('chmod 600')
  })
})

describe('a data folder', () => {
  it.each([
    ['is a file', 'data', 'file of this name'],
    ['lies under a file', 'data/inner', 'is a file, not a folder'],
  ])('that %s is told with its path and what to do, and left alone', async (_, path, words) => {
    const folder = temporaryFolder()
    writeFileSync(join(folder, 'data'), 'mine')
    await expect((await opened(join(folder, path))).worksKey()).rejects.toThrow(words)
    await expect(openRegister(join(folder, path), { environment: {} })).rejects.toThrow(folder)
    expect(readFileSync(join(folder, 'data'), 'utf8')).toBe('mine')
  })
})
