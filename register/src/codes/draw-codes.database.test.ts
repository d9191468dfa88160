import fc from 'fast-check'
import { describe, expect, it, onTestFinished } from 'vitest'
import { migrate } from '../migrations/migrate.ts'
import { openDatabase } from '../postgres/database.ts'
import { onEveryServer, someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'
import { changing } from '../postgres/works-store.ts'
import { RegisterTrouble } from '../register-trouble.ts'
import { keyGenerationOf } from '../sealing/key-generation.ts'
import { recordAct } from './act-rows.ts'
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

    it('notices rows that are gone, numbers counted as free, reserved ones that were given, and acts without a reason', async () => {
      const store = await opened(shared)
      for (const [key, count] of [
        ['one', 3],
        ['two', 4],
        ['three', 2],
      ] as const)
        await drawCodes(store, request(key, count))
      const intruder = await shared.administrator()
      /** What the audit finds after a statement that is then taken back. */
      const found = async (...statements: string[]) => {
        const before = await auditCodes(store.tables, store.worksId)
        expect(before).toEqual([])
        for (const statement of statements) await intruder.query(statement.replaceAll('$WORKS', `'${store.worksId}'`))
        return (await auditCodes(store.tables, store.worksId)).map(({ number, message }) => `${number}: ${message}`)
      }
      const spaces = (given: string) => `UPDATE code_spaces SET given = '${given}' WHERE works_id = $WORKS`
      const whole = '{[0,9)}'
      expect(await found(spaces('{[0,6),[8,9)}'))).toEqual([expect.stringMatching(/^6: .*given twice/)])
      await intruder.query(spaces(whole).replace('$WORKS', `'${store.worksId}'`))
      expect(await found(spaces('{[0,12)}'))).toEqual([expect.stringMatching(/^9: .*missing/)])
      await intruder.query(spaces(whole).replace('$WORKS', `'${store.worksId}'`))
      const event = `(SELECT max(number) FROM events WHERE works_id = $WORKS)`
      const act = (kind: string, numbers: string) =>
        `INSERT INTO code_acts SELECT $WORKS, '${kind}', 'space', '${kind}', '${numbers}', ${event}, NULL`
      expect(await found(act('reserved', '{[2,4)}'))).toEqual([expect.stringMatching(/^2: .*reserved/)])
      await intruder.query(`DELETE FROM code_acts WHERE works_id = '${store.worksId}'`)
      expect(await found(act('withdrawn', '{[7,8)}'))).toEqual([expect.stringMatching(/^7: .*withdrawn/)])
      await intruder.query(`DELETE FROM code_acts WHERE works_id = '${store.worksId}'`)
      expect(await found(`DELETE FROM codes WHERE works_id = $WORKS AND number = 8`)).toEqual([
        expect.stringMatching(/^8: .*missing/),
      ])
    })

    it('goes on at the lowest number that is free, past what is reserved, withdrawn or taken', async () => {
      const store = await opened(shared)
      await drawCodes(store, request('one', 2))
      await changing(store, (change) =>
        recordAct(change, store.worksId, {
          kind: 'reserved',
          space: 'space',
          numbers: '3-4',
          because: { who: 'M', reason: 'r' },
        }),
      )
      await changing(store, (change) =>
        recordAct(change, store.worksId, {
          kind: 'withdrawn',
          space: 'space',
          numbers: '6',
          because: { who: 'M', reason: 'r' },
        }),
      )
      const outcome = await drawCodes(store, request('two', 4))
      expect(outcome.ok && outcome.value.map(({ number }) => number)).toEqual([2n, 5n, 7n, 8n])
      expect(await drawCodes(store, request('two', 4))).toEqual(outcome)
      expect(await auditCodes(store.tables, store.worksId)).toEqual([])
    })

    it('lets not even the owner of the tables give a withdrawn number again', async () => {
      const store = await opened(shared)
      await drawCodes(store, request('one', 2))
      await changing(store, (change) =>
        recordAct(change, store.worksId, {
          kind: 'withdrawn',
          space: 'space',
          numbers: '1',
          because: { who: 'M', reason: 'r' },
        }),
      )
      const intruder = await shared.administrator()
      const back = `UPDATE codes SET state = 'given', act_id = NULL WHERE works_id = $1 AND number = 1`
      await expect(intruder.query(back, [store.worksId])).rejects.toMatchObject({ code: '23000' })
    })
  })
})
