import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { actor } from '../contract-bench.testing.ts'
import { temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { onEveryServer, type TestDatabase } from '../postgres/test-database.testing.ts'
import { backUp } from './back-up.ts'
import { everythingBut } from './everything-but.testing.ts'
import { inspectBackup } from './inspect-backup.ts'
import { restore } from './restore.ts'
import { usedRegister, WORKS_KEY } from './used-register.testing.ts'

const PASSPHRASE = 'nine brass hasps in a row'
const now = new Date('2031-02-03T04:05:06.789Z')

const backedUp = async (database: TestDatabase, file: string, overwrite = false) =>
  backUp('', file, { ...database, actor, now, passphrase: PASSPHRASE, program: '0.1.0', overwrite })
const restored = (database: TestDatabase, file: string) =>
  restore('', file, { ...database, actor, now, passphrase: PASSPHRASE })

describe('a backup', () => {
  onEveryServer((databases) => {
    const { newDatabase } = databases
    it('brings every row of every works back into an empty register, whose chain is then whole', async () => {
      const [{ database: source }, target] = [await usedRegister(databases), await newDatabase()]
      const file = join(temporaryFolder(), 'register.backup')
      const { tables, rows } = await backedUp(source, file)
      expect(tables).toBeGreaterThan(25)
      expect(statSync(file).mode & 0o777).toBe(0o600)
      const { backup, audit } = await restored(target, file)
      expect(audit.gaps).toEqual([])
      expect(Object.values(audit.events).map(({ whole }) => whole)).toEqual([true, true])
      expect(Object.values(backup.tables).reduce((a, b) => a + b)).toBe(rows)
      const [before, after] = [
        await everythingBut(source, 'register.backed-up'),
        await everythingBut(target, 'register.restored'),
      ]
      expect(before.rows.length).toBeGreaterThan(100)
      expect(after.rows).toEqual(before.rows)
      expect(after.told).toHaveLength(2)
      const environment = { ...target.environment, HASPWRIGHT_WORKS_KEY: WORKS_KEY }
      const register = await openRegister(temporaryFolder(), { environment })
      expect(await register.audit()).toMatchObject({ whole: true })
      await register.close()
    })

    it('is taken while others write: what it holds is one moment, and adds up', async () => {
      const { database: source, draw } = await usedRegister(databases)
      const file = join(temporaryFolder(), 'register.backup')
      const [written] = await Promise.all([backedUp(source, file), draw('one'), draw('two'), draw('three')])
      expect(written.rows).toBeGreaterThan(100)
      const { audit } = await restored(await newDatabase(), file)
      expect(audit.gaps).toEqual([])
      expect(Object.values(audit.events).every(({ whole }) => whole)).toBe(true)
    })

    it('goes into no register in which something stands, and changes nothing there', async () => {
      const { database: source } = await usedRegister(databases)
      const file = join(temporaryFolder(), 'register.backup')
      await backedUp(source, file)
      const before = (await source.everything()).sort()
      await expect(restored(source, file)).rejects.toThrow('empty data folder')
      expect((await source.everything()).sort()).toEqual(before)
    })

    it('is written over no other file unless told so, and leaves nothing behind when it fails', async () => {
      const { database: source } = await usedRegister(databases)
      const folder = temporaryFolder()
      const file = join(folder, 'register.backup')
      writeFileSync(file, 'mine')
      await expect(backedUp(source, file)).rejects.toThrow('--overwrite')
      expect(readFileSync(file, 'utf8')).toBe('mine')
      await backedUp(source, file, true)
      expect(readdirSync(folder)).toEqual(['register.backup'])
      await expect(backedUp(source, join(file, 'inner'))).rejects.toThrow('a folder is needed')
    })

    it('tells what is in it, and proves its chain by itself: also one that was broken before', async () => {
      const { database: source } = await usedRegister(databases)
      const file = join(temporaryFolder(), 'register.backup')
      await backedUp(source, file)
      const report = await inspectBackup(file, PASSPHRASE)
      expect(report).toMatchObject({ program: '0.1.0', at: now.toISOString(), works: { works: { whole: true } } })
      expect(report.tables).toMatchObject({ designs: 3, orders: 2 })
      const intruder = await source.administrator()
      await intruder.query(`UPDATE events SET actor = 'N. Obody' WHERE number = 3 AND works_id = 'works'`)
      await backedUp(source, file, true)
      expect((await inspectBackup(file, PASSPHRASE)).works['works']).toMatchObject({
        whole: false,
        broken: { number: 3n },
      })
      const { audit } = await restored(await newDatabase(), file)
      expect(audit.events['works']).toMatchObject({ whole: false, broken: { number: 3n } })
    })

    it('makes no register when it does not open', async () => {
      const target = await newDatabase()
      const file = join(temporaryFolder(), 'register.backup')
      await expect(restored(target, file)).rejects.toThrow('no such file')
      writeFileSync(file, 'HASPWRIGHT BACKUP 1\nand no more')
      await expect(restored(target, file)).rejects.toThrow('no backup')
      expect(await target.everything()).toEqual([])
    })
  })
})
