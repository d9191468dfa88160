import { describe, expect, it, onTestFinished } from 'vitest'
import { actor } from '../contract-bench.testing.ts'
import { demoOrder, temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { onEveryServer, someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'

/** A register with events 1 to 8 in its chain, and somebody who may do everything in its database. */
async function chainOfEight({ environment, administrator }: TestDatabase) {
  const worksId = someWorks()
  const register = await openRegister(temporaryFolder(), { environment, worksId })
  onTestFinished(() => register.close())
  const order = await demoOrder()
  await register.orders.save(order.id, order, { actor })
  for (let i = 2; i <= 8; i++)
    await register.access.record({ who: 'R. Thorne', order: order.id, paper: `${i}.pdf`, reason: 'Prüfung “Ł”' })
  const intruder = await administrator()
  return {
    register,
    tamper: (statement: string) => intruder.query(statement.replaceAll('$WORKS', `works_id = '${worksId}'`)),
  }
}

describe('the audit of the events', () => {
  onEveryServer(({ shared }) => {
    it('proves a whole chain and names its head, which a certificate may carry', async () => {
      const { register } = await chainOfEight(shared)
      const head = await register.eventHead()
      expect(head).toMatchObject({ number: 8n, hash: expect.stringMatching(/^[0-9a-f]{64}$/) })
      expect(await register.audit(head)).toEqual({ whole: true, events: 8n, head })
    })

    it('finds an empty chain whole', async () => {
      const register = await openRegister(temporaryFolder(), {
        environment: shared.environment,
        worksId: someWorks(),
      })
      onTestFinished(() => register.close())
      expect(await register.audit()).toEqual({ whole: true, events: 0n, head: undefined })
    })

    it.each([
      ['a changed reason', `UPDATE events SET body = replace(body, '5.pdf', '9.pdf') WHERE $WORKS AND number = 5`, 5n],
      ['a changed name', `UPDATE events SET actor = 'N. Obody' WHERE $WORKS AND number = 3`, 3n],
      ['a moved moment', `UPDATE events SET at = at + interval '1 microsecond' WHERE $WORKS AND number = 4`, 4n],
      ['an event taken out', `DELETE FROM events WHERE $WORKS AND number = 6`, 6n],
      ['the first event taken out', `DELETE FROM events WHERE $WORKS AND number = 1`, 1n],
      ['the last event cut off', `DELETE FROM events WHERE $WORKS AND number = 8`, 8n],
      [
        'two events exchanged',
        `UPDATE events a SET body = b.body FROM events b
         WHERE a.works_id = b.works_id AND a.$WORKS AND a.number + b.number = 7 AND a.number IN (3, 4)`,
        3n,
      ],
      [
        'an event changed with a hash that fits it',
        `UPDATE events SET actor = 'X', hash = event_hash(previous_hash, works_id, number, at, kind, subject, 'X', body)
         WHERE $WORKS AND number = 2`,
        3n,
      ],
    ])('names the first broken row after %s, done by somebody who may do everything', async (_, statement, number) => {
      const { register, tamper } = await chainOfEight(shared)
      expect((await tamper(statement)).rowCount).toBeGreaterThan(0)
      expect(await register.audit()).toMatchObject({ whole: false, broken: { number }, events: number - 1n })
    })

    it('tells from a printed head that the end was cut off or written anew, when the chain itself cannot', async () => {
      const { register, tamper } = await chainOfEight(shared)
      const printed = await register.eventHead()
      await tamper(`DELETE FROM events WHERE $WORKS AND number = 8`)
      await tamper(
        `UPDATE event_heads h SET number = 7, hash = e.hash FROM events e WHERE e.number = 7 AND e.works_id = h.works_id AND h.$WORKS`,
      )
      expect(await register.audit()).toMatchObject({ whole: true })
      expect(await register.audit(printed)).toMatchObject({ whole: false, broken: { number: 8n } })
      await register.access.record({ who: 'X', order: '1', paper: '8.pdf', reason: 'another' })
      expect(await register.audit(printed)).toMatchObject({ whole: false, broken: { number: 8n } })
    })
  })
})
