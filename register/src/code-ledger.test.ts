import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { csvOf, environment, listed } from './code-acts-contract.testing.ts'
import { bench, range } from './contract-bench.testing.ts'
import { allocateOneByOne, temporaryFolder } from './data-folder.testing.ts'
import { openFileRegister } from './file-register.ts'

const because = { who: 'Mara', reason: 'key lost on the quay' }

async function fileLedger(given: NodeJS.ProcessEnv = {}) {
  const data = temporaryFolder()
  return { data, ...(await bench(async () => openFileRegister(data, { environment: given }))) }
}

// What holds for every ledger stands in code-ledger-contract.testing.ts.
describe('the ledger in files', () => {
  it('reads folders of before: one row of numbers, no line by line; what was given stays given', async () => {
    const { data, order, blindCodes, register, design } = await fileLedger()
    await blindCodes(order('one', 3))
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
    expect(await blindCodes(order('two', 2))).toEqual(range('HB50', 3, 5))
  })

  it('gives nothing out over a damaged, lost or older file, and leaves it as it is', async () => {
    const { order, blindCodes, data } = await fileLedger()
    await blindCodes(order('one', 5))
    const [name = ''] = await readdir(join(data, 'codes', 'spaces'))
    const file = join(data, 'codes', 'spaces', name)
    const good = readFileSync(file, 'utf8')
    for (const content of ['', good.slice(0, 40), '{"schema": "haspwright/code-space/1"}']) {
      writeFileSync(file, content)
      await expect(blindCodes(order('two', 5))).rejects.toThrow(file)
      expect(readFileSync(file, 'utf8')).toBe(content)
    }
    writeFileSync(file, good.replace('"0-4"', '"0-3"'))
    await expect(blindCodes(order('one', 5))).rejects.toThrow('older than the reservations')
    rmSync(file)
    await expect(blindCodes(order('two', 5))).rejects.toThrow('missing')
    writeFileSync(file, good)
    expect(await blindCodes(order('two', 1))).toEqual(['HB50/5'])
  })

  it('keeps no cuts', async () => {
    const { order, register, design, data } = await fileLedger()
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

  it('makes no new works key where codes were given out with one that is missing', async () => {
    const { order, blindCodes, data } = await fileLedger()
    await blindCodes(order('one', 5))
    rmSync(join(data, 'works.key'))
    await expect(openFileRegister(data, { environment: {} }).worksKey()).rejects.toThrow('safe copy')
  })

  it('keeps codes from before the tool in no file in plain text, nor in the access log', async () => {
    const { codes, data, design } = await fileLedger(environment)
    const rows = (await listed(2)).map(({ cuts }, i) => [`Berth ${i}`, `OLD-${i}`, cuts] as const)
    await codes.takeOver(design, { text: csvOf(rows) }, because)
    const files = (await readdir(data, { recursive: true, withFileTypes: true })).filter((entry) => entry.isFile())
    expect(files.length).toBeGreaterThan(3)
    for (const file of files) {
      const text = readFileSync(join(file.parentPath, file.name), 'utf8')
      for (const [lock, mark, cuts] of rows)
        for (const secret of [lock, mark, cuts.join('-'), cuts.join(','), cuts.join('')])
          expect(text).not.toContain(secret)
    }
  })
})
