import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { CodeAllocation } from '@haspwright/engine'
import { describe, expect, it, onTestFinished } from 'vitest'
import { usedRegister, WORKS_KEY } from '../backup/used-register.testing.ts'
import { temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { type Databases, onEveryServer } from '../postgres/test-database.testing.ts'
import { unseal } from './seal.ts'

const because = { who: 'Mara', reason: 'somebody left' }
const NEXT = 'ab'.repeat(32)

/** A used register whose key stands in the file of a data folder. */
async function withKeyFile(databases: Databases) {
  const { database, ...used } = await usedRegister(databases)
  const data = temporaryFolder()
  const file = join(data, 'works.key')
  writeFileSync(file, `${WORKS_KEY}\n`, { mode: 0o600 })
  const open = async (more: NodeJS.ProcessEnv = {}, folder = data) => {
    const register = await openRegister(folder, { environment: { ...database.environment, ...more } })
    onTestFinished(() => register.close())
    return register
  }
  return { ...used, database, data, file, open, key: () => readFileSync(file, 'utf8').trim() }
}

function cutsOf(outcome: { ok: true; value: CodeAllocation } | { ok: false }) {
  if (!outcome.ok) throw new Error('refused')
  return outcome.value.keys.map(({ cuts, blindCode }) => [cuts, blindCode])
}

describe('replacing the works key', () => {
  onEveryServer((databases) => {
    it('changes no code that was given, seals everything anew, and is recorded', async () => {
      const { database, give, earlier, design, open, key, file } = await withKeyFile(databases)
      const before = cutsOf(await give('one', 4))
      const register = await open()
      expect(await register.keys.rotate(because)).toEqual({ generation: 2, resealed: earlier.length })
      expect(key()).toMatch(/^[0-9a-f]{64}$/)
      expect(statSync(file).mode & 0o777).toBe(0o600)
      expect(existsSync(`${file}.next`)).toBe(false)
      const again = await open()
      expect(cutsOf(await give('one', 4, again))).toEqual(before)
      expect(await again.codes.earlierBlindCode(design, 'hasp 3')).toMatch(/^\w+$/)
      // The same space goes on in its order: none comes twice.
      const all = [...before, ...cutsOf(await give('three', 30, again))].map(([cuts]) => `${cuts}`)
      expect(new Set(all).size).toBe(all.length)
      expect(await again.auditCodes()).toEqual([])
      expect(await again.audit()).toMatchObject({ whole: true })
      const rows = await database.everything('works')
      expect(rows.filter((row) => row.includes('works-key.replaced') && row.includes('somebody left'))).toHaveLength(1)
      for (const secret of [WORKS_KEY, key(), ...before.map(([cuts]) => JSON.stringify(cuts))])
        expect(rows.join('\n')).not.toContain(secret)
    })

    it('leaves whoever has the old key and the database with nothing sealed, and no code of a space opened since', async () => {
      const { database, design, open, order, give, key } = await withKeyFile(databases)
      const register = await open()
      await register.keys.rotate(because)
      await expect(
        (await open({ HASPWRIGHT_WORKS_KEY: WORKS_KEY })).codes.earlierBlindCode(design, 'hasp 3'),
      ).rejects.toThrow('replaced')
      const intruder = await database.administrator()
      const { rows } = await intruder.query<{ space: string; list_id: string; line: number; sealed: Buffer }>(
        'SELECT * FROM earlier_codes',
      )
      expect(rows.length).toBeGreaterThan(10)
      for (const { space, list_id, line, sealed } of rows) {
        const row = { table: 'earlier_codes', worksId: 'works', key: [space, list_id, line] }
        expect(() => unseal(WORKS_KEY, row, sealed)).toThrow('does not open')
        expect(unseal(key(), row, sealed).toString()).toContain('hasp')
      }
      const another = { ...design, mechanism: { ...design.mechanism, rules: {} } }
      let told: Readonly<Record<string, string>> = {}
      await register.codes.reserve(
        order('new', 2),
        [another],
        async ({ worksKeys }) => {
          told = worksKeys
          return { ok: false, issues: [] }
        },
        { actor: 'R' },
      )
      expect(told).toEqual({ [design.id]: key() })
      await give('four', 2, register)
    })

    it('is whole or not at all wherever it is broken off, and is ended at the next opening', async () => {
      const { database, give, open, key, file } = await withKeyFile(databases)
      const before = cutsOf(await give('one', 4))
      // Broken off before the database: the next key lies there and was never used.
      writeFileSync(`${file}.next`, `${NEXT}\n`, { mode: 0o600 })
      expect(cutsOf(await give('one', 4, await open()))).toEqual(before)
      expect(key()).toBe(WORKS_KEY)
      // Broken off in the database: a seal that does not open stops it.
      const intruder = await database.administrator()
      await intruder.query(`CREATE TABLE kept AS SELECT * FROM earlier_codes`)
      await intruder.query(`UPDATE earlier_codes SET sealed = 'x' WHERE line = (SELECT max(line) FROM earlier_codes)`)
      await expect((await open()).keys.rotate(because)).rejects.toThrow('sealed')
      expect(cutsOf(await give('one', 4, await open()))).toEqual(before)
      expect(key()).toBe(WORKS_KEY)
      expect((await intruder.query('SELECT FROM works_keys')).rowCount).toBe(1)
      await intruder.query(
        'UPDATE earlier_codes e SET sealed = k.sealed FROM kept k WHERE (k.list_id, k.line) = (e.list_id, e.line)',
      )
      // Broken off between the database and the file: the old key lies there, the next beside it.
      await (await open()).keys.rotate(because)
      const next = key()
      writeFileSync(`${file}.next`, `${next}\n`, { mode: 0o600 })
      writeFileSync(file, `${WORKS_KEY}\n`)
      expect(cutsOf(await give('one', 4, await open()))).toEqual(before)
      expect(key()).toBe(next)
    })

    it('takes a key that is kept elsewhere from where the next one is named, and opens through many generations', async () => {
      const { give, open, file } = await withKeyFile(databases)
      const before = cutsOf(await give('one', 4))
      const there = { HASPWRIGHT_WORKS_KEY: WORKS_KEY }
      await expect((await open(there)).keys.rotate(because)).rejects.toThrow('HASPWRIGHT_WORKS_KEY_NEXT')
      await (await open({ ...there, HASPWRIGHT_WORKS_KEY_NEXT: NEXT })).keys.rotate(because)
      const third = 'cd'.repeat(32)
      await (await open({ HASPWRIGHT_WORKS_KEY: NEXT, HASPWRIGHT_WORKS_KEY_NEXT: third })).keys.rotate(because)
      expect(cutsOf(await give('one', 4, await open({ HASPWRIGHT_WORKS_KEY: third })))).toEqual(before)
      expect(existsSync(`${file}.next`)).toBe(false)
    })
  })
})

describe('recovery sheets', () => {
  onEveryServer((databases) => {
    it('put the works key back in an empty data folder; those of an earlier key or another register do not', async () => {
      const { open, key } = await withKeyFile(databases)
      const plan = { sheets: 3, needed: 2 }
      const old = await (await open()).keys.sheets(plan, 'Mara')
      await (await open()).keys.rotate(because)
      const made = await (await open()).keys.sheets(plan, 'Mara')
      if (!made.ok || !old.ok) throw new Error('refused')
      const empty = temporaryFolder()
      const register = await open({}, empty)
      expect(await register.keys.recover(made.value.slice(0, 1), 'Mara')).toMatchObject({ ok: false })
      await expect(register.keys.recover(old.value, 'Mara')).rejects.toThrow('generation 1')
      expect(existsSync(join(empty, 'works.key'))).toBe(false)
      expect(await register.keys.recover(made.value.slice(1), 'Mara')).toMatchObject({ ok: true })
      expect(readFileSync(join(empty, 'works.key'), 'utf8').trim()).toBe(key())
      const another = await openRegister(temporaryFolder(), {
        environment: (await databases.newDatabase()).environment,
      })
      onTestFinished(() => another.close())
      expect(await another.keys.recover(made.value, 'Mara')).toMatchObject({ ok: true }) // nothing was given out there yet
    })
  })
})
