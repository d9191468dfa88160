import { describe, expect, it, onTestFinished } from 'vitest'
import { csvOf, listed, environment as withKey } from '../code-acts-contract.testing.ts'
import { actor, bench } from '../contract-bench.testing.ts'
import { allocateOneByOne, temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { onEveryServer, someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'

const because = { who: 'Mara', reason: 'key lost on the quay' }

async function ledger({ environment, administrator, everything }: TestDatabase) {
  const worksId = someWorks()
  const open = async (more: NodeJS.ProcessEnv = withKey) => {
    const register = await openRegister(temporaryFolder(), {
      environment: { ...environment, ...more },
      worksId,
    })
    onTestFinished(() => register.close())
    return register
  }
  const register = await open()
  const intruder = await administrator()
  return {
    open,
    audit: () => register.auditCodes(),
    ...(await bench(async () => register)),
    tamper: (statement: string) => intruder.query(statement.replaceAll('$WORKS', `works_id = '${worksId}'`)),
    everything: () => everything(worksId),
  }
}

// What holds for every ledger stands in code-ledger-contract.testing.ts and code-acts-contract.testing.ts.
describe('the ledger in the database', () => {
  onEveryServer(({ shared }) => {
    it('adds up after orders, new codes, reservations, releases, withdrawals and lists taken over', async () => {
      const { codes, design, numbers, order, register, audit } = await ledger(shared)
      await numbers(order('one', 5))
      await numbers(order('one', 6))
      const reserved = await codes.reserveRange(design, { from: '20', to: '29' }, because)
      await codes.withdraw(design, { number: '22' }, because)
      await codes.takeOver(
        design,
        { text: csvOf((await listed(9, 3)).slice(8).map(({ cuts }) => ['', '', cuts])) },
        because,
      )
      if (reserved.ok) await codes.release(design, reserved.value.id, because)
      await numbers(order('two', 20))
      expect(await audit()).toEqual([])
      expect(await register.access.entries()).toHaveLength(5)
    })

    it('keeps no cuts of orders, and those of earlier lists only sealed', async () => {
      const { codes, design, order, everything } = await ledger(shared)
      const asked = order('one', 1)
      await codes.reserve(
        asked,
        [design],
        async (start) => {
          const outcome = await allocateOneByOne(asked)(start)
          if (!outcome.ok) return outcome
          const locks = outcome.value.locks.map((lock) => ({ ...lock, gates: [[7], [7], [7], [7]] }))
          const key = { name: 'A-001', lot: '', blindCode: 'x', cuts: [7, 7, 7, 7], copies: 1, master: false }
          return { ok: true, value: { ...outcome.value, locks, keys: [key] } }
        },
        { actor },
      )
      const rows = (await listed(3, 1)).map(({ cuts }, i) => [`Berth ${i}`, `OLD-${i}`, cuts] as const)
      await codes.takeOver(design, { text: csvOf(rows) }, because)
      const text = (await everything()).join('\n')
      expect(text).toContain('key lost on the quay')
      expect(text).not.toMatch(/(7,\s*){3}7|cuts|gates/) // rows have numbers of their own side by side
      for (const [lock, mark, cuts] of rows)
        for (const secret of [lock, mark, cuts.join('-'), cuts.join(','), cuts.join(', ')])
          expect(text).not.toContain(secret)
    })

    it('names in the events who stored, who planned and who withdrew', async () => {
      const { codes, design, order, numbers, register, tamper } = await ledger(shared)
      await register.designs.save(design.id, design, { actor: 'Ines' })
      await numbers(order('one', 2))
      await codes.withdraw(design, { number: '1' }, because)
      const { rows } = await tamper('SELECT kind, actor FROM events WHERE $WORKS ORDER BY number')
      expect(rows).toEqual([
        { kind: 'design.saved', actor: 'Ines' },
        { kind: 'codes.given', actor },
        { kind: 'codes.withdrawn', actor: 'Mara' },
      ])
    })

    it('opens a sealed code in its own row only', async () => {
      const { codes, design, tamper } = await ledger(shared)
      const rows = (await listed(2)).map(({ cuts }, i) => ['', `OLD-${i}`, cuts] as const)
      await codes.takeOver(design, { text: csvOf(rows) }, because)
      expect(await codes.earlierBlindCode(design, 'OLD-1')).toBe((await listed(2))[1]?.blindCode)
      await tamper(
        `UPDATE earlier_codes a SET sealed = b.sealed FROM earlier_codes b
         WHERE a.works_id = b.works_id AND a.$WORKS AND a.line = 2 AND b.line = 3`,
      )
      await expect(codes.earlierBlindCode(design, 'OLD-1')).rejects.toThrow('belongs to another row')
    })

    it('makes no new works key where codes were given out with one that is missing', async () => {
      const { order, numbers, open } = await ledger(shared)
      await numbers(order('one', 1))
      await expect((await open({})).worksKey()).rejects.toThrow('safe copy')
    })

    it('gives an order two sets of lines asked for at once one after the other', async () => {
      const { codes, design, order, audit, register } = await ledger(shared)
      const asked = [3, 4, 5].map((quantity) => order('one', quantity))
      const outcomes = await Promise.all(
        asked.map((each) => codes.reserve(each, [design], allocateOneByOne(each), { actor })),
      )
      expect(outcomes.every(({ ok }) => ok)).toBe(true)
      const replaced = (await register.access.entries()).filter(({ act }) => act === 'replaced')
      expect(replaced).toHaveLength(2)
      expect(await audit()).toEqual([])
    })
  })
})
