import { appendFileSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { actor } from '../contract-bench.testing.ts'
import { temporaryFolder } from '../data-folder.testing.ts'
import { onEveryServer, type TestDatabase } from '../postgres/test-database.testing.ts'
import { everythingBut } from './everything-but.testing.ts'
import { moveIn } from './move-in.ts'
import { moveOut } from './move-out.ts'
import { usedRegister, WORKS_KEY } from './used-register.testing.ts'

const now = new Date('2031-02-03T04:05:06.789Z')
const out = ({ environment }: TestDatabase, folder: string) =>
  moveOut('', folder, { environment, actor, now, program: '0.1.0' })
const into = ({ environment }: TestDatabase, folder: string) => moveIn('', folder, { environment, actor, now })

describe('moving out and in', () => {
  onEveryServer((databases) => {
    const { newDatabase } = databases
    it('keeps every row as it was, in files that tell no cut and no key, and the chain whole', async () => {
      const [{ database: source, earlier }, target] = [await usedRegister(databases), await newDatabase()]
      const folder = join(temporaryFolder(), 'leaving')
      const contents = await out(source, folder)
      expect(readdirSync(folder).sort()).toEqual(
        ['README.txt', 'contents.json', ...contents.tables.map(({ file }) => file)].sort(),
      )
      expect(statSync(folder).mode & 0o777).toBe(0o700)
      const texts = readdirSync(folder).map((name) => readFileSync(join(folder, name), 'utf8'))
      expect(texts.join()).not.toContain(WORKS_KEY)
      expect(texts.join()).not.toContain('token-of-a-session')
      for (const [, , cuts] of earlier) expect(texts.join()).not.toMatch(cuts.join('[-, ]+'))
      for (const line of readFileSync(join(folder, 'events.jsonl'), 'utf8').trimEnd().split('\n'))
        expect(JSON.parse(line)).toHaveProperty('hash')
      const { audit } = await into(target, folder)
      expect(audit.gaps).toEqual([])
      expect(Object.values(audit.events).map(({ whole }) => whole)).toEqual([true, true])
      const [before, after] = [
        await everythingBut(source, 'register.moved-out'),
        await everythingBut(target, 'register.moved-in'),
      ]
      expect(before.rows.length).toBeGreaterThan(100)
      expect(after.rows).toEqual(before.rows)
    })

    it('writes into no folder that is in use, and reads no file that was changed', async () => {
      const { database: source } = await usedRegister(databases)
      const folder = join(temporaryFolder(), 'leaving')
      await out(source, folder)
      await expect(out(source, folder)).rejects.toThrow('no empty folder')
      const target = await newDatabase()
      await expect(into(source, folder)).rejects.toThrow('empty data folder')
      appendFileSync(join(folder, 'locks.csv'), 'works,another\n')
      await expect(into(target, folder)).rejects.toThrow('locks.csv')
      await expect(into(target, temporaryFolder())).rejects.toThrow('contents.json')
      expect(await target.everything()).toEqual([])
    })
  })
})
