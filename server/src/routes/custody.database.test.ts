import { onEveryServer } from '@haspwright/register/testing'
import { describe, expect, it } from 'vitest'
import { PASSWORD, peopleBench, totp } from '../people/people-bench.testing.ts'

const REPLACEMENT_ORDER = '26-047'

describe('who may have which codes', () => {
  onEveryServer(({ shared }) => {
    it('a replacement key wants two different people: whoever asked cannot approve, not by another session, not by a token', async () => {
      const bench = await peopleBench(shared, { demo: true })
      const admin = await bench.setUp()
      const one = await bench.newcomer(admin, ['registrar'], { secondFactor: true, name: 'O. Ne' })
      const two = await bench.newcomer(admin, ['registrar'], { secondFactor: true, name: 'T. Wo' })
      const papers = `/api/orders/${REPLACEMENT_ORDER}`
      const { papers: listed } = (await one.done('GET', `${papers}/papers`)) as {
        papers: { path: string; secret: boolean }[]
      }
      const path = listed.find(({ secret }) => secret)?.path
      const open = (who: typeof one) => who.send('POST', `${papers}/code-papers`, { path, reason: 'cutting the key' })
      expect((await open(one)).status).toBe(403)

      const asked = (await one.done('POST', `${papers}/replacement`, { reason: 'lost overboard' })) as {
        request: { id: string }
      }
      const again = await two.send('POST', `${papers}/replacement`, { reason: 'lost overboard' })
      expect(again.status).toBe(422)
      const decision = `/api/replacements/${asked.request.id}/decision`
      const approval = { decision: 'approved', reason: 'request seen' }
      expect((await one.send('POST', decision, approval)).status).toBe(403)
      const elsewhere = bench.browser()
      await elsewhere.done('POST', '/api/sign-in', { email: one.email, password: PASSWORD })
      await elsewhere.done('POST', '/api/sign-in/second-factor', { code: totp(one.secret) })
      expect((await elsewhere.send('POST', decision, approval)).status).toBe(403)
      const { token } = await admin.done('POST', '/api/tokens', {
        name: 'Orders',
        scopes: ['orders:read', 'orders:write'],
        days: 9,
      })
      const byToken = await bench.browser().send('POST', decision, approval, { authorization: `Bearer ${token}` })
      expect(byToken.status).toBe(403)
      expect((await open(one)).status).toBe(403)

      await two.done('POST', decision, approval)
      expect((await two.send('POST', decision, { ...approval, decision: 'refused' })).status).toBe(422)
      expect((await open(one)).status).toBe(200)
      const intruder = await shared.administrator()
      const { rows } = await intruder.query<{ kind: string; actor: string }>(
        `SELECT kind, actor FROM events WHERE works_id = $1 AND subject = $2 AND kind LIKE 'replacement.%' ORDER BY number`,
        [bench.works, REPLACEMENT_ORDER],
      )
      expect(rows.map(({ kind }) => kind)).toEqual(['replacement.asked', 'replacement.approved'])
      expect(rows[0]?.actor).toContain('O. Ne')
      expect(rows[1]?.actor).toContain('T. Wo')
      expect(await bench.register.audit()).toMatchObject({ whole: true })
    })

    it('the database itself refuses one person in both places, and a second decision', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      const registrar = await bench.newcomer(admin, ['registrar'], { name: 'O. Ne' })
      const id = String((await registrar.me())['id'])
      const made = await bench.register.people.replacements.ask('26-047', 'lost', { id, name: 'O. Ne' })
      expect(made.ok).toBe(true)
      const server = await shared.administrator()
      const decide = (by: string) =>
        server.query(
          `UPDATE replacement_requests SET decision = 'approved', decided_by = $2, decided_at = now(), decided_because = 'x' WHERE works_id = $1`,
          [bench.works, by],
        )
      await expect(decide(id)).rejects.toMatchObject({ constraint: 'two_different_people' })
      await decide(String((await admin.me())['id']))
      await expect(decide(String((await admin.me())['id']))).rejects.toThrow('decided once')
    })

    it('a builder opens the stacks and keys of the lot in hand alone, each time with a reason, until it is taken back', async () => {
      const bench = await peopleBench(shared, { demo: true })
      const admin = await bench.setUp()
      const planner = await bench.newcomer(admin, ['planner'], { name: 'P. Lanner' })
      const builder = await bench.newcomer(admin, ['builder'], { name: 'B. Uilder' })
      const person = String((await builder.me())['id'])
      const open = (path: string, reason: string = 'building the lot') =>
        builder.send('POST', '/api/orders/26-041/code-papers', { path, reason })
      expect((await open('secret/stacks-26-041-A1.pdf')).status).toBe(403)
      const noBuilder = await planner.send('POST', '/api/orders/26-041/lots-in-hand', {
        lot: '26-041-A1',
        person: String((await planner.me())['id']),
      })
      expect(noBuilder.status).toBe(422)
      expect((await planner.send('POST', '/api/orders/26-041/lots-in-hand', { lot: '26-041-Z9', person })).status).toBe(
        404,
      )
      await planner.done('POST', '/api/orders/26-041/lots-in-hand', { lot: '26-041-A1', person })
      expect((await open('secret/stacks-26-041-A1.pdf', 'x')).status).toBe(422)
      expect((await open('secret/stacks-26-041-A1.pdf')).status).toBe(200)
      for (const path of ['secret/stacks-26-041-A2.pdf', 'secret/stacks.csv', 'secret/keys.csv', 'secret/kitting.csv'])
        expect((await open(path)).status, path).toBe(403)
      const entries = await bench.register.access.entries()
      expect(entries.filter(({ paper }) => paper)).toEqual([
        expect.objectContaining({ who: `B. Uilder (${person})`, order: '26-041', reason: 'building the lot' }),
      ])
      await planner.done('DELETE', `/api/orders/26-041/lots-in-hand/26-041-A1/${person}`)
      expect((await open('secret/stacks-26-041-A1.pdf')).status).toBe(403)
    })

    it('an order system hands in orders as JSON and as CSV and fetches papers without codes, until its token is revoked', async () => {
      const bench = await peopleBench(shared, { demo: true })
      const admin = await bench.setUp()
      const scopes = ['orders:write', 'orders:read', 'papers:read']
      const made = (await admin.done('POST', '/api/tokens', { name: 'Orders', scopes, days: 9 })) as {
        token: string
        service: { id: string }
      }
      const send = (method: string, path: string, body?: unknown, type = 'application/json') =>
        bench.browser().send(method, path, body, { authorization: `Bearer ${made.token}`, 'content-type': type })
      const csv = [
        'id,customer.name,received,due,lots.maxLocks,release.level,release.aqlPercent,release.severity,release.askedBy,line.id,line.design,line.quantity,line.keying,line.group,line.keysPerLock,line.spareKeys',
        'T-1,"Quay, Sons",2026-11-24,2027-01-20,150,S-2,6.5,normal,the customer,A,HB50,6,alike,Pilot boats,2,0',
        'T-1,"Quay, Sons",2026-11-24,2027-01-20,150,S-2,6.5,normal,the customer,A,HB50,4,alike,Harbour office,2,0',
      ].join('\r\n')
      const handedIn = await send('POST', '/api/orders', csv, 'text/csv')
      expect(handedIn.status).toBe(201)
      expect(await handedIn.json()).toMatchObject({
        order: {
          customer: { name: 'Quay, Sons' },
          lines: [
            { quantity: 10, keying: { kind: 'alike', groups: [{ name: 'Pilot boats', locks: 6 }, { locks: 4 }] } },
          ],
        },
      })
      const stored = (await (await send('GET', '/api/orders/T-1')).json()) as { order: Record<string, unknown> }
      expect((await send('POST', '/api/orders', { ...stored.order, id: 'T-2' })).status).toBe(201)
      const wrong = await send(
        'POST',
        '/api/orders',
        csv.replace('alike,Pilot', 'master,Pilot').replace('line.design', 'design'),
        'text/csv',
      )
      expect(wrong.status).toBe(422)
      expect(JSON.stringify(await wrong.json())).toContain('line.design')
      const { papers } = (await (await send('GET', '/api/orders/T-1/papers')).json()) as {
        papers: { href?: string; secret: boolean; path: string }[]
      }
      const paper = papers.find(({ secret }) => !secret)
      expect((await send('GET', paper?.href ?? '')).status).toBe(200)
      const secret = papers.find((each) => each.secret)
      expect((await send('GET', `/api/orders/T-1/papers/${secret?.path}`)).status).toBe(403)
      expect(
        (await send('POST', '/api/orders/T-1/code-papers', { path: secret?.path, reason: 'curious' })).status,
      ).toBe(403)
      const { tokens } = (await admin.done('GET', '/api/tokens')) as {
        tokens: { prefix: string; lastUsedAt?: string }[]
      }
      expect(tokens[0]).toMatchObject({ prefix: made.token.slice(0, 11), lastUsedAt: expect.any(String) })
      await admin.done('DELETE', `/api/tokens/${made.service.id}`)
      expect((await send('GET', '/api/orders/T-1')).status).toBe(401)
      const { rows } = await (await shared.administrator()).query<{ kind: string; actor: string }>(
        `SELECT kind, actor FROM events WHERE works_id = $1 AND (subject = 'T-1' AND kind = 'order.saved' OR kind LIKE 'token.%') ORDER BY number`,
        [bench.works],
      )
      expect(rows.map(({ kind }) => kind)).toEqual(['token.made', 'order.saved', 'token.revoked'])
      expect(rows[1]?.actor).toContain('Orders (s-')
    })

    it('people are given roles, shut out and let in again; each is an event, and an administrator stays', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      const own = String((await admin.me())['id'])
      const person = await bench.newcomer(admin, ['planner'])
      const id = String((await person.me())['id'])
      expect((await admin.send('PUT', `/api/people/${own}/roles`, { roles: ['engineer'] })).status).toBe(422)
      expect((await admin.send('POST', `/api/people/${own}/shut-out`)).status).toBe(422)
      const both = await admin.send('PUT', `/api/people/${id}/roles`, { roles: ['administrator', 'registrar'] })
      expect(both.status).toBe(422)
      await admin.done('PUT', `/api/people/${id}/roles`, { roles: ['inspector', 'operator'] })
      expect((await person.me())['roles']).toEqual(['inspector', 'operator'])
      await admin.done('POST', `/api/people/${id}/shut-out`)
      expect(await person.me()).toMatchObject({ signedIn: false })
      const refused = await person.send('POST', '/api/sign-in', { email: person.email, password: PASSWORD })
      expect(refused.status).toBe(403)
      await admin.done('POST', `/api/people/${id}/let-in`)
      await person.done('POST', '/api/sign-in', { email: person.email, password: PASSWORD })
      const { rows } = await (await shared.administrator()).query<{ kind: string }>(
        `SELECT kind FROM events WHERE works_id = $1 AND subject = $2 ORDER BY number`,
        [bench.works, id],
      )
      expect(rows.map(({ kind }) => kind)).toEqual([
        'person.let-in',
        'person.roles-changed',
        'person.shut-out',
        'person.let-in-again',
      ])
      expect(await bench.register.audit()).toMatchObject({ whole: true })
    })
  })
})
