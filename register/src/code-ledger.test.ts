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

const range = (design: string, from: number, to: number) =>
  Array.from({ length: to - from }, (_, i) => `${design}/${from + i}`)

describe('the code ledger', () => {
  it('gives an order its numbers once, and the same again', async () => {
    const { order, numbers } = await bench()
    const first = await numbers(order('one', 5))
    expect(first).toEqual(range('HB50', 0, 5))
    expect(await numbers(order('two', 3))).toEqual(range('HB50', 5, 8))
    expect(await numbers(order('one', 5))).toEqual(first)
    expect(await numbers({ ...order('one', 5), due: '2027-06-01' })).toEqual(first)
  })

  it('goes on where it was when two revisions share a mechanism, and starts anew for a changed rule', async () => {
    const { order, numbers, design } = await bench()
    await numbers(order('one', 5))
    const revised = { ...design, revision: 'next', title: 'Revised' }
    expect(await numbers(order('two', 2), [revised])).toEqual(range('HB50', 5, 7))
    const otherRules: Design = {
      ...design,
      mechanism: { ...design.mechanism, rules: { ...design.mechanism.rules, minDistinct: 4 } },
    }
    expect(await numbers(order('three', 2), [otherRules])).toEqual(range('HB50', 0, 2))
    expect(await numbers(order('four', 2))).toEqual(range('HB50', 7, 9))
  })

  it('does not let two designs of one mechanism in one order share a number', async () => {
    const { data, design, register, numbers } = await bench()
    const twin = { ...design, id: 'HB50-L' }
    const asked = orderOf(await demoOrder(), 'both', [
      { id: 'A', design: 'HB50', quantity: 4 },
      { id: 'B', design: 'HB50-L', quantity: 3 },
    ])
    expect(await numbers(asked, [design, twin])).toEqual([...range('HB50', 0, 4), ...range('HB50-L', 4, 7)])
    expect(await numbers(asked, [design, twin])).toEqual([...range('HB50', 0, 4), ...range('HB50-L', 4, 7)])
    const next = orderOf(await demoOrder(), 'next', [{ id: 'A', design: 'HB50', quantity: 1 }])
    const again = await openFileRegister(data, { environment: {} }).codes.reserve(
      next,
      [design],
      allocateOneByOne(next),
    )
    expect(again).toMatchObject({ ok: true, value: { locks: [{ blindCode: 'HB50/7' }] } })
    expect(await register.codes.blindCodeOf({ order: 'both', line: 'B', number: 2 })).toBe('HB50-L/5')
  })

  it('reserves anew when the lines of an order changed, and withdraws the earlier codes', async () => {
    const { order, numbers, register, design } = await bench()
    await numbers(order('one', 5))
    await numbers(order('two', 5))
    expect(await numbers(order('one', 6))).toEqual(range('HB50', 10, 16))
    expect(await register.codes.givenOut(design)).toMatchObject({
      numbers: '11',
      withdrawn: '5',
      withdrawals: [{ numbers: '0-4', count: '5', reason: expect.stringContaining('order one') }],
    })
    // Back to what it was: the withdrawn codes do not come again.
    expect(await numbers(order('one', 5))).toEqual(range('HB50', 16, 21))
  })

  it('asks first where the sheets were opened; with a reason it goes on, and says that old sheets are void', async () => {
    const { order, numbers, register, design } = await bench()
    await numbers(order('one', 5))
    await register.access.record({ who: 'cutter', order: 'one', paper: 'secret/keys.pdf', reason: 'cutting' })
    const larger = order('one', 6)
    expect(await register.codes.reserve(larger, [design], allocateOneByOne(larger))).toMatchObject({
      ok: false,
      issues: [{ code: 'needs-confirmation', path: 'newCodes' }],
    })
    expect((await register.codes.givenOut(design)).withdrawn).toBe('0')
    const because = { who: 'planner', reason: 'customer wants one more' }
    const outcome = await register.codes.reserve(larger, [design], allocateOneByOne(larger), because)
    expect(outcome).toMatchObject({ ok: true, value: { notices: [expect.stringContaining('void')] } })
    if (outcome.ok) expect(outcome.value.locks.map(({ blindCode }) => blindCode)).toEqual(range('HB50', 5, 11))
    expect(await register.access.entries()).toContainEqual(
      expect.objectContaining({ ...because, act: 'replaced', order: 'one', numbers: '0-4' }),
    )
  })

  it('reads folders of before: one row of numbers, no line by line; what was given stays given', async () => {
    const { data, order, numbers, register, design } = await bench()
    await numbers(order('one', 3))
    const [name = ''] = await readdir(join(data, 'codes', 'spaces'))
    const space = name.replace('.json', '')
    const file = (...path: string[]) => join(data, 'codes', ...path)
    const { space: shape } = JSON.parse(readFileSync(file('spaces', name), 'utf8')) as { space: unknown }
    writeFileSync(file('spaces', name), JSON.stringify({ schema: 'haspwright/code-space/1', space: shape, next: '3' }))
    writeFileSync(
      file('orders', 'one', '1.json'),
      JSON.stringify({
        schema: 'haspwright/reservation/1',
        order: 'one',
        fingerprint: 'f',
        ranges: [{ design: 'HB50', space, start: '0', count: '3' }],
        locks: [{ name: 'A-001', lot: 'one-A1', blindCode: 'OLD0001' }],
      }),
    )
    expect(await register.codes.blindCodeOf({ order: 'one', line: 'A', number: 1 })).toBe('OLD0001')
    expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '3', orders: ['one'] })
    expect(await numbers(order('two', 2))).toEqual(range('HB50', 3, 5))
  })

  it('gives nothing when an allocation takes a number that was taken, or one twice', async () => {
    const { order, numbers, register, design } = await bench()
    await numbers(order('one', 5))
    for (const taken of ['4', '7,7']) {
      const asked = order('two', 2)
      const reserved = register.codes.reserve(asked, [design], async () => ({
        ok: true,
        value: {
          order: 'two',
          keys: [],
          locks: [],
          given: [{ line: 'A', design: 'HB50', numbers: taken, passedOver: '' }],
          notices: [],
        },
      }))
      await expect(reserved).rejects.toThrow('issue number')
    }
    expect(await numbers(order('two', 2))).toEqual(range('HB50', 5, 7))
  })

  it('hands locks under masters of earlier orders to those that come after, as numbers', async () => {
    const { order, register, design } = await bench()
    const first = order('one', 2)
    const line = {
      line: 'A',
      design: 'HB50',
      numbers: '900,4,17',
      passedOver: '3',
      locks: [
        [1, 0],
        [2, 0],
      ],
    }
    await register.codes.reserve(first, [design], async () => ({
      ok: true,
      value: { order: 'one', keys: [], locks: [], given: [line], notices: [] },
    }))
    const next = order('two', 1)
    let told: unknown
    await register.codes.reserve(next, [design], (start) => {
      told = start.known
      return allocateOneByOne(next)(start)
    })
    const { numbers, locks } = line
    expect(told).toEqual({
      HB50: { out: '4,17,900', kept: '3', mastered: [{ order: 'one', line: 'A', numbers, locks }] },
    })
  })

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
    writeFileSync(file, good.replace('"0-4"', '"0-3"'))
    await expect(numbers(order('one', 5))).rejects.toThrow('older than the reservations')
    rmSync(file)
    await expect(numbers(order('two', 5))).rejects.toThrow('missing')
    writeFileSync(file, good)
    expect(await numbers(order('two', 1))).toEqual(['HB50/5'])
  })

  it('never overlaps when many orders are reserved at once', async () => {
    const { order, numbers } = await bench()
    const all = (await Promise.all(Array.from({ length: 10 }, (_, i) => numbers(order(`o${i}`, i + 1))))).flat()
    expect(new Set(all).size).toBe(55)
    expect([...all].sort()).toEqual(range('HB50', 0, 55).sort())
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
