import { describe, expect, it } from 'vitest'
import { actsContract } from './code-acts-contract.testing.ts'
import { ledgerContract } from './code-ledger-contract.testing.ts'
import { actor, type Start, testing } from './contract-bench.testing.ts'
import { demoOrder } from './data-folder.testing.ts'

/**
 * What every register keeps to, whatever it stores things in.
 * @param start gives the way to an empty register, once for each test
 */
export function registerContract(start: Start): void {
  const test = testing(start)

  describe('documents on a shelf', () => {
    test('come back as they were stored, each version for good', async (open) => {
      const register = await open()
      const order = await demoOrder()
      expect(await register.orders.save(order.id, order, { actor, expected: 0 })).toMatchObject({
        ok: true,
        saved: { version: 1 },
      })
      const later = { ...order, due: '2027-01-01' }
      expect(await register.orders.save(order.id, later, { actor, expected: 1 })).toMatchObject({
        ok: true,
        saved: { version: 2 },
      })
      expect((await register.orders.version(order.id, 1))?.content).toEqual(order)
      expect((await register.orders.latest(order.id))?.content).toEqual(later)
      expect(await register.orders.ids()).toEqual([order.id])
      expect(await register.orders.versions(order.id)).toEqual([1, 2])
    })

    test('are not stored twice when nothing changed', async (open) => {
      const register = await open()
      const order = await demoOrder()
      await register.orders.save(order.id, order, { actor, expected: 0 })
      expect(await register.orders.save(order.id, { ...order }, { actor, expected: 0 })).toMatchObject({
        ok: true,
        saved: { version: 1 },
      })
    })

    test('show what is stored when somebody else was faster', async (open) => {
      const register = await open()
      const order = await demoOrder()
      await register.orders.save(order.id, order, { actor, expected: 0 })
      const theirs = await register.orders.save(order.id, { ...order, due: '2027-01-01' }, { actor, expected: 1 })
      const ours = await register.orders.save(order.id, { ...order, due: '2027-02-02' }, { actor, expected: 1 })
      expect(theirs.ok).toBe(true)
      expect(ours).toMatchObject({ ok: false, conflict: { version: 2, content: { due: '2027-01-01' } } })
    })

    test('let only one of many writers follow a version', async (open) => {
      const register = await open()
      const order = await demoOrder()
      await register.orders.save(order.id, order, { actor, expected: 0 })
      const results = await Promise.all(
        Array.from({ length: 12 }, (_, i) =>
          register.orders.save(order.id, { ...order, due: `2027-01-${String(i + 10)}` }, { actor, expected: 1 }),
        ),
      )
      expect(results.filter(({ ok }) => ok)).toHaveLength(1)
      expect(await register.orders.versions(order.id)).toEqual([1, 2])
    })

    it.each(['..', '../../etc/passwd', '.hidden', 'a/b', '', 'x'.repeat(65)])(
      'never leave the folder: %j',
      async (id) => {
        const register = await (await start())()
        expect(await register.orders.latest(id)).toBeUndefined()
        expect(await register.orders.save(id, await demoOrder(), { actor })).toMatchObject({
          ok: false,
          issues: [{ path: 'id' }],
        })
      },
    )
  })

  ledgerContract(start)
  actsContract(start)

  describe('the works key', () => {
    test('is made once, however many ask at once', async (open) => {
      const [one, two] = [await open(), await open()]
      const [first, second] = await Promise.all([one.worksKey(), two.worksKey()])
      expect(first).toMatch(/^[0-9a-f]{64}$/)
      expect(second).toBe(first)
      expect(await (await open()).worksKey()).toBe(first)
    })
  })

  describe('the access log', () => {
    test('keeps every entry in order', async (open) => {
      const { access } = await open()
      const entry = { who: 'R. Thorne', order: '26-041', paper: 'secret/key-cuts.pdf', reason: 'cutting keys' }
      await access.record(entry)
      await access.record({ ...entry, reason: 'second\nlook' })
      const { order: _, paper: __, ...bare } = entry
      await access.record(bare)
      const entries = (await access.entries()).map(({ at, ...rest }) => {
        expect(at).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/)
        return rest
      })
      expect(entries).toEqual([entry, { ...entry, reason: 'second\nlook' }, bare])
    })

    test('loses none of many entries written at once', async (open) => {
      const register = await open()
      await Promise.all(
        Array.from({ length: 20 }, (_, i) =>
          register.access.record({ who: `${i}`, order: '', paper: '', reason: 'x' }),
        ),
      )
      expect(await register.access.entries()).toHaveLength(20)
    })
  })
}
