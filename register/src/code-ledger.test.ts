import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { allocateOneByOne, demoDesign, demoOrder, orderOf, temporaryFolder } from './data-folder.testing.ts'
import { openFileRegister } from './file-register.ts'

async function bench() {
  const data = temporaryFolder()
  const design = await demoDesign()
  const template = await demoOrder()
  const order = (id: string, quantity: number, of = design.id) =>
    orderOf(template, id, [{ id: 'A', design: of, quantity }])
  const register = openFileRegister(data, { environment: {} })
  const numbers = async (asked: ReturnType<typeof order>, designs: readonly Design[] = [design]) => {
    const outcome = await register.codes.reserve(asked, designs, allocateOneByOne(asked))
    if (!outcome.ok) throw new Error('refused')
    return outcome.value.locks.map(({ blindCode }) => blindCode)
  }
  return { data, design, order, register, numbers }
}

describe('the code ledger', () => {
  it('reserves nothing when the codes cannot be allocated', async () => {
    const { order, numbers, register, design, data } = await bench()
    const issues = [{ path: 'lines[0]', code: 'out-of-reach' as const, message: 'There are not enough codes.' }]
    expect(await register.codes.reserve(order('one', 5), [design], async () => ({ ok: false, issues }))).toEqual({
      ok: false,
      issues,
    })
    expect(await readdir(join(data, 'codes'))).toEqual(['works-key-check.json'])
    expect(await numbers(order('two', 1))).toEqual(['HB50/0'])
  })

  it('refuses another works key than the one the codes were given out with', async () => {
    const { order, numbers, data, design } = await bench()
    await numbers(order('one', 5))
    const other = openFileRegister(data, { environment: { HASPWRIGHT_WORKS_KEY: '0123456789abcdef'.repeat(2) } })
    const asked = order('two', 1)
    await expect(other.codes.reserve(asked, [design], allocateOneByOne(asked))).rejects.toThrow('another works key')
    rmSync(join(data, 'works.key'))
    await expect(openFileRegister(data, { environment: {} }).worksKey()).rejects.toThrow('safe copy')
  })

  it('gives nothing out over a damaged, lost or older file, and leaves it as it is', async () => {
    const { order, numbers, data } = await bench()
    await numbers(order('one', 5))
    const [name = ''] = await readdir(join(data, 'codes', 'spaces'))
    const file = join(data, 'codes', 'spaces', name)
    const good = readFileSync(file, 'utf8')
    for (const content of ['', good.slice(0, 40), '{"schema": "haspwright/code-space/1"}']) {
      writeFileSync(file, content)
      await expect(numbers(order('two', 5))).rejects.toThrow(file)
      expect(readFileSync(file, 'utf8')).toBe(content)
    }
    writeFileSync(file, good.replace('"5"', '"4"'))
    await expect(numbers(order('one', 5))).rejects.toThrow('older than the reservations')
    rmSync(file)
    await expect(numbers(order('two', 5))).rejects.toThrow('missing')
    writeFileSync(file, good)
    expect(await numbers(order('two', 1))).toEqual(['HB50/5'])
  })

  it('keeps no cuts', async () => {
    const { order, register, design, data } = await bench()
    const asked = order('one', 1)
    await register.codes.reserve(asked, [design], async (start) => {
      const outcome = await allocateOneByOne(asked)(start)
      if (!outcome.ok) return outcome
      const locks = outcome.value.locks.map((lock) => ({ ...lock, gates: [[7], [7], [7], [7]] }))
      const key = { name: 'A-001', lot: '', blindCode: 'x', cuts: [7, 7, 7, 7], copies: 1, master: false }
      return { ok: true, value: { ...outcome.value, locks, keys: [key] } }
    })
    const files = await readdir(data, { recursive: true, withFileTypes: true })
    for (const file of files.filter((entry) => entry.isFile()))
      expect(readFileSync(join(file.parentPath, file.name), 'utf8')).not.toMatch(/7,\s*7|cuts|gates/)
  })
})
