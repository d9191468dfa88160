import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { demoOrder, temporaryFolder } from './data-folder.testing.ts'
import { openFileRegister } from './file-register.ts'
import { RegisterTrouble } from './register-trouble.ts'

function emptyRegister() {
  const data = temporaryFolder()
  return { data, register: openFileRegister(data, { environment: {} }) }
}

describe('documents on a shelf', () => {
  it('come back as they were stored, each version for good', async () => {
    const { register, data } = emptyRegister()
    const order = await demoOrder()
    expect(await register.orders.save(order.id, order, 0)).toMatchObject({ ok: true, saved: { version: 1 } })
    const later = { ...order, due: '2027-01-01' }
    expect(await register.orders.save(order.id, later, 1)).toMatchObject({ ok: true, saved: { version: 2 } })
    expect((await register.orders.version(order.id, 1))?.content).toEqual(order)
    expect((await register.orders.latest(order.id))?.content).toEqual(later)
    expect(await register.orders.ids()).toEqual([order.id])
    expect(readdirSync(join(data, 'orders', order.id)).sort()).toEqual(['1.json', '2.json'])
  })

  it.each([
    ['half written', '{"schema": "haspwright/order/1", "id": "26-0', 'line 1'],
    ['empty', '', 'nothing in it'],
    ['of another kind', '{"schema": "haspwright/works/1"}', 'cannot be used'],
  ])('that are %s are named with what to do, and the older version is kept', async (_, content, words) => {
    const { register, data } = emptyRegister()
    const order = await demoOrder()
    await register.orders.save(order.id, order, 0)
    const damaged = join(data, 'orders', order.id, '2.json')
    writeFileSync(damaged, content)
    const trouble = await register.orders.latest(order.id).catch((error: unknown) => error)
    expect(trouble).toBeInstanceOf(RegisterTrouble)
    expect((trouble as RegisterTrouble).message).toContain(damaged)
    expect((trouble as RegisterTrouble).message).toContain(words)
    expect((trouble as RegisterTrouble).message).toContain('go back to version 1')
    await expect(register.orders.save(order.id, { ...order, due: '2027-01-01' })).rejects.toBeInstanceOf(
      RegisterTrouble,
    )
    expect(readFileSync(damaged, 'utf8')).toBe(content)
    expect((await register.orders.version(order.id, 1))?.content).toEqual(order)
  })

  it('do not take what a dying process left unfinished for a version', async () => {
    const { register, data } = emptyRegister()
    const order = await demoOrder()
    await register.orders.save(order.id, order, 0)
    writeFileSync(join(data, 'orders', order.id, '.unfinished-1-abc'), '{"half')
    expect(await register.orders.versions(order.id)).toEqual([1])
  })
})

describe('a disk that refuses', () => {
  it.each([
    ['is a file', 'data', 'file of this name'],
    ['lies under a file', 'data/inner', 'is a file, not a folder'],
  ])('is told with the path and what to do when the data folder %s', async (_, path, words) => {
    const folder = temporaryFolder()
    writeFileSync(join(folder, 'data'), 'mine')
    const register = openFileRegister(join(folder, path), { environment: {} })
    const order = await demoOrder()
    await expect(register.orders.save(order.id, order)).rejects.toThrow(words)
    await expect(register.worksKey()).rejects.toThrow(words)
    expect(readFileSync(join(folder, 'data'), 'utf8')).toBe('mine')
  })
})

describe('the works key', () => {
  it('is made once, only its owner can read it, and it stays', async () => {
    const data = temporaryFolder()
    const told: string[] = []
    const register = openFileRegister(data, { environment: {}, onNewKey: (file) => told.push(file) })
    const [first, second] = await Promise.all([register.worksKey(), register.worksKey()])
    expect(first).toMatch(/^[0-9a-f]{64}$/)
    expect(second).toBe(first)
    expect(told).toEqual([join(data, 'works.key')])
    expect(statSync(join(data, 'works.key')).mode & 0o777).toBe(0o600)
    expect(await openFileRegister(data, { environment: {} }).worksKey()).toBe(first)
  })

  it('is taken from the environment before the file, and then makes no file', async () => {
    const data = temporaryFolder()
    const key = 'AB'.repeat(16)
    const register = openFileRegister(data, { environment: { HASPWRIGHT_WORKS_KEY: key } })
    expect(await register.worksKey()).toBe(key.toLowerCase())
    expect(existsSync(join(data, 'works.key'))).toBe(false)
  })

  it('is refused, without a word of it, when it is no key', async () => {
    const data = temporaryFolder()
    const wrong = openFileRegister(data, { environment: { HASPWRIGHT_WORKS_KEY: 'cafe-not-a-key' } })
    await expect(wrong.worksKey()).rejects.toThrow('hexadecimal')
    await expect(wrong.worksKey()).rejects.not.toThrow('cafe')
    writeFileSync(join(data, 'works.key'), 'cafebabe\n', { mode: 0o600 })
    const broken = openFileRegister(data, { environment: {} })
    await expect(broken.worksKey()).rejects.toThrow('works.key')
    await expect(broken.worksKey()).rejects.not.toThrow('cafebabe')
    expect(readFileSync(join(data, 'works.key'), 'utf8')).toBe('cafebabe\n')
  })

  it.skipIf(process.platform === 'win32')('is refused while others can read its file', async () => {
    const { register, data } = emptyRegister()
    await register.worksKey()
    chmodSync(join(data, 'works.key'), 0o644)
    await expect(register.worksKey()).rejects.toThrow('chmod 600')
  })

  it('is not made anew when codes were given out with one that is missing', async () => {
    const { register, data } = emptyRegister()
    mkdirSync(join(data, 'codes', 'spaces'), { recursive: true })
    await expect(register.worksKey()).rejects.toThrow('missing')
  })
})

describe('the access log', () => {
  it('keeps every entry in order, also after half a line that a power cut left', async () => {
    const data = temporaryFolder()
    const register = openFileRegister(data, { environment: {}, now: () => new Date('2026-03-04T05:06:07Z') })
    const entry = { who: 'R. Thorne', order: '26-041', paper: 'secret/key-cuts.pdf', reason: 'cutting keys' }
    await register.access.record(entry)
    writeFileSync(join(data, 'access-log.jsonl'), '{"at": "2026', { flag: 'a' })
    await register.access.record({ ...entry, reason: 'second\nlook' })
    expect(await register.access.entries()).toEqual([
      { at: '2026-03-04T05:06:07.000Z', ...entry },
      { at: '2026-03-04T05:06:07.000Z', ...entry, reason: 'second\nlook' },
    ])
    expect(statSync(join(data, 'access-log.jsonl')).mode & 0o777).toBe(0o600)
  })
})
