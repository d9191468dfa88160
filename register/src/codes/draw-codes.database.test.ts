import fc from 'fast-check'
import { describe, expect, it, onTestFinished } from 'vitest'
import { migrate } from '../migrations/migrate.ts'
import { openDatabase } from '../postgres/database.ts'
import { onEveryServer, someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { keyGenerationOf } from '../sealing/key-generation.ts'
import { auditCodes } from './audit-codes.ts'
import { type DrawRequest, drawCodes } from './draw-codes.ts'

async function opened({ environment }: TestDatabase, worksId = someWorks()) {
  const database = await openDatabase('', environment)
  onTestFinished(() => database.close())
  await migrate(database)
  const { tables, place } = database
  const store = { tables, place, worksId }
  await tables
    .insertInto('works')
    .values({ works_id: worksId })
    .onConflict((c) => c.doNothing())
    .execute()
  await keyGenerationOf(store, 'ab'.repeat(32))
  return store
}

const request = (idempotencyKey: string, count: number): DrawRequest => ({
  idempotencyKey,
  space: { id: 'space', definition: { discs: 7 } },
  locks: Array.from({ length: count }, (_, i) => ({
    id: `${idempotencyKey}/${i}`,
    order: idempotencyKey,
    name: `A-${i + 1}`,
    lot: 'L',
    design: 'HB50',
  })),
  keyGeneration: 1,
  blindCodeOf: (number) => `B${number}`,
  actor: 'R. Thorne',
})

describe('drawing codes', () => {
  onEveryServer(({ shared }) => {
    it('gives each lock the next number and its blind code, and the same for the same request', async () => {
      const store = await opened(shared)
      const first = await drawCodes(store, request('one', 3))
      expect(first).toEqual({
        ok: true,
        value: [0n, 1n, 2n].map((number, i) => ({ lock: `one/${i}`, number, blindCode: `B${number}` })),
      })
      expect(await drawCodes(store, request('two', 1))).toMatchObject({ ok: true, value: [{ number: 3n }] })
      expect(await drawCodes(store, request('one', 3))).toEqual(first)
      expect(await auditCodes(store.tables, store.worksId)).toEqual([])
    })

    it('refuses a key that was used for something else, and what cannot be drawn, all at once', async () => {
      const store = await opened(shared)
      await drawCodes(store, request('one', 3))
      expect(await drawCodes(store, request('one', 2))).toMatchObject({
        ok: false,
        issues: [{ path: 'idempotencyKey' }],
      })
      const bad = { ...request('', 0) }
      expect(await drawCodes(store, bad)).toMatchObject({
        ok: false,
        issues: [{ path: 'idempotencyKey' }, { path: 'locks' }],
      })
      expect(await drawCodes(store, { ...request('two', 1), keyGeneration: 2 })).toMatchObject({
        ok: false,
        issues: [{ path: 'space' }],
      })
      expect(await drawCodes(store, request('three', 1))).toMatchObject({ ok: true, value: [{ number: 3n }] })
    })

    it('takes nothing when a lock has a code already', async () => {
      const store = await opened(shared)
      await drawCodes(store, request('one', 3))
      const again = { ...request('two', 1), locks: request('one', 3).locks }
      await expect(drawCodes(store, again)).rejects.toMatchObject({ code: '23505' })
      expect(await drawCodes(store, request('three', 1))).toMatchObject({ ok: true, value: [{ number: 3n }] })
      expect(await auditCodes(store.tables, store.worksId)).toEqual([])
    })

    it('gives no code twice and skips none, with 16 sessions, every request sent twice, and connections cut at random', async () => {
      const store = await opened(shared)
      const sessions = await Promise.all(Array.from({ length: 16 }, () => opened(shared, store.worksId)))
      const intruder = await shared.administrator()
      // Sizes and cuts are drawn with a fixed seed; when they happen is up to the machine.
      const sizes = fc.sample(fc.integer({ min: 1, max: 40 }), { seed: 6, numRuns: 32 })
      let busy = true
      const cutting = (async () => {
        while (busy)
          await intruder.query(
            `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
             WHERE usename <> current_user AND datname = current_database() AND random() < 0.1 AND pg_sleep(0.02) IS NOT NULL`,
          )
      })()
      const insist = async (session: number, key: string, count: number) => {
        for (;;)
          try {
            const outcome = await drawCodes(sessions[session] ?? store, request(key, count))
            if (!outcome.ok) throw new Error(JSON.stringify(outcome.issues))
            return outcome.value
          } catch (cause) {
            if (!(cause instanceof RegisterTrouble)) throw cause // a lost connection: the same request again
          }
      }
      const answers = await Promise.all(
        sizes.flatMap((size, i) => [insist(i % 16, `r${i}`, size), insist((i + 7) % 16, `r${i}`, size)]),
      )
      busy = false
      await cutting
      const byLock = new Map<string, bigint>()
      for (const { lock, number } of answers.flat()) {
        expect(byLock.get(lock) ?? number).toBe(number)
        byLock.set(lock, number)
      }
      const total = sizes.reduce((sum, size) => sum + size, 0)
      expect([...byLock.values()].sort((a, b) => Number(a - b))).toEqual(
        Array.from({ length: total }, (_, i) => BigInt(i)),
      )
      expect(await auditCodes(store.tables, store.worksId)).toEqual([])
    })

    it('notices a number held twice, passed over, or without its lock', async () => {
      const store = await opened(shared)
      for (const [key, count] of [
        ['one', 3],
        ['two', 4],
        ['three', 2],
      ] as const)
        await drawCodes(store, request(key, count))
      const intruder = await shared.administrator()
      const tamper = async (statement: string) => {
        await intruder.query('BEGIN')
        await intruder.query(statement, [store.worksId])
        await intruder.query('COMMIT')
        return auditCodes(store.tables, store.worksId)
      }
      expect(await tamper(`DELETE FROM codes WHERE works_id = $1 AND number = 8`)).toMatchObject([
        { number: 7n, message: expect.stringContaining('tied to a lock') },
      ])
      expect(await tamper(`UPDATE code_spaces SET next_number = 8 WHERE works_id = $1`)).toMatchObject([
        { number: 7n, message: expect.stringContaining('tied') },
        { number: 8n, message: expect.stringContaining('twice') },
      ])
      expect(await tamper(`UPDATE code_spaces SET next_number = 12 WHERE works_id = $1`)).toMatchObject([
        { number: 7n },
        { number: 9n, message: expect.stringContaining('passed over') },
      ])
    })
  })
})
