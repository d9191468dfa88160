import { onEveryServer } from '@haspwright/register/testing'
import { describe, expect, it } from 'vitest'
import { PASSWORD, peopleBench, secretOf, totp } from './people-bench.testing.ts'

describe('the codes of a second factor', () => {
  it('are those of RFC 6238, appendix B, SHA-1, cut to six digits', () => {
    const secret = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ' // 12345678901234567890
    expect([59, 1111111109, 1234567890, 20000000000].map((seconds) => totp(secret, seconds * 1000))).toEqual([
      '287082',
      '081804',
      '005924',
      '353130',
    ])
  })
})

describe('signing in', () => {
  onEveryServer(({ shared }) => {
    it('begins with a link that makes one administrator, once', async () => {
      const bench = await peopleBench(shared)
      const first = bench.browser()
      expect(await first.me()).toEqual({ signedIn: false, awaitsSetUp: true })
      const link = await bench.register.people.invitations.makeSetUp()
      const newcomer = {
        link,
        name: 'R. Thorne',
        email: bench.email('thorne'),
        password: PASSWORD,
        roles: ['engineer'],
      }
      const short = await first.send('POST', '/api/invitations/accept', { ...newcomer, password: 'short' })
      expect(short.status).toBe(422)
      expect(await first.done('POST', '/api/invitations/accept', newcomer)).toEqual({ signedIn: true })
      expect(await first.me()).toMatchObject({
        signedIn: true,
        name: 'R. Thorne',
        roles: ['administrator', 'engineer'],
        mayWithSecondFactor: ['renewals.decide', 'people.manage', 'tokens.manage'],
      })
      const { may } = await first.me()
      expect(may).toEqual(expect.arrayContaining(['orders.write', 'designs.write']))
      expect(may).not.toContain('people.manage')
      const second = bench.browser()
      const again = await second.send('POST', '/api/invitations/accept', { ...newcomer, email: bench.email('x') })
      expect(again.status).toBe(404)
      expect(await second.me()).toEqual({ signedIn: false, awaitsSetUp: false })
    })

    it('by an earlier set-up link ends when another is made, and by any when somebody is in', async () => {
      const bench = await peopleBench(shared)
      const [earlier, later] = [
        await bench.register.people.invitations.makeSetUp(),
        await bench.register.people.invitations.makeSetUp(),
      ]
      expect(await bench.register.people.invitations.behind(earlier)).toBeUndefined()
      expect(await bench.register.people.invitations.behind(later)).toMatchObject({ kind: 'set-up' })
      await bench.setUp()
      const late = await bench.register.people.invitations.makeSetUp()
      const refused = await bench.browser().send('POST', '/api/invitations/accept', {
        link: late,
        name: 'I. Ntruder',
        email: bench.email('intruder'),
        password: PASSWORD,
      })
      expect(refused.status).toBe(422)
    })

    it('keeps its cookie from scripts and other sites, and from plain connections behind TLS', async () => {
      for (const behindTls of [false, true]) {
        const bench = await peopleBench(shared, { behindTls })
        const admin = await bench.setUp()
        await admin.done('POST', '/api/sign-out')
        const response = await admin.send('POST', '/api/sign-in', { email: admin.email, password: PASSWORD })
        expect(await response.json()).toEqual({ signedIn: false })
        const last = await admin.send('POST', '/api/sign-in/second-factor', { code: totp(admin.secret) })
        const [cookie = ''] = last.headers
          .getSetCookie()
          .filter((line) => line.includes('session_token=') && !/=;/.test(line))
        expect(cookie).toMatch(/; HttpOnly/)
        expect(cookie).toMatch(/; SameSite=Strict/i)
        expect(/; Secure/.test(cookie)).toBe(behindTls)
        expect(last.headers.has('strict-transport-security')).toBe(behindTls)
      }
    })

    it('asks for the second factor once it is enrolled, and takes each recovery code once', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      const other = bench.browser()
      await other.done('POST', '/api/sign-in', { email: admin.email, password: PASSWORD })
      expect(await other.me()).toMatchObject({ signedIn: false })
      expect((await other.send('POST', '/api/sign-in/second-factor', { code: '000000' })).status).toBe(401)
      const code = admin.recoveryCodes[0]
      await other.done('POST', '/api/sign-in/second-factor', { code })
      expect(await other.me()).toMatchObject({ signedIn: true, secondFactor: true })
      const third = bench.browser()
      await third.done('POST', '/api/sign-in', { email: admin.email, password: PASSWORD })
      expect((await third.send('POST', '/api/sign-in/second-factor', { code })).status).toBe(401)
    })

    it('does not raise an older session when the second factor is enrolled elsewhere', async () => {
      const bench = await peopleBench(shared)
      const registrar = await bench.newcomer(await bench.setUp(), ['registrar'])
      const older = bench.browser()
      await older.done('POST', '/api/sign-in', { email: registrar.email, password: PASSWORD })
      expect((await older.get('/api/codes/log')).status).toBe(403)
      await registrar.enrol()
      expect((await registrar.get('/api/codes/log')).status).toBe(200)
      expect((await older.get('/api/codes/log')).status).toBe(403)
    })

    it('tells nobody whether an address is known, and counts tries for all servers together', async () => {
      const bench = await peopleBench(shared)
      const { email } = await bench.setUp()
      const guess = async (address: string) => {
        const response = await bench
          .browser()
          .send('POST', '/api/sign-in', { email: address, password: 'guessed at random' })
        return { status: response.status, body: await response.text(), wait: response.headers.get('retry-after') }
      }
      expect(await guess(email)).toEqual(await guess('nobody@nowhere.example'))
      for (let tries = 1; tries < 10; tries++) expect((await guess(email)).status).toBe(401)
      const stopped = await guess(email)
      expect(stopped.status).toBe(429)
      expect(Number(stopped.wait)).toBeGreaterThan(60)
      const right = await bench.browser().send('POST', '/api/sign-in', { email, password: PASSWORD })
      expect(right.status).toBe(429)
      expect((await guess('somebody-else@nowhere.example')).status).toBe(401)
    })

    it('ends everywhere at once, and in one place alone', async () => {
      const bench = await peopleBench(shared)
      const here = await bench.setUp(['engineer'])
      const there = bench.browser()
      await there.done('POST', '/api/sign-in', { email: here.email, password: PASSWORD })
      await there.done('POST', '/api/sign-in/second-factor', { code: totp(here.secret) })
      const { sessions } = (await here.done('GET', '/api/account/sessions')) as {
        sessions: { id: string; current: boolean }[]
      }
      expect(sessions.map(({ current }) => current).sort()).toEqual([false, true])
      expect(JSON.stringify(sessions)).not.toContain(here.cookies.get('haspwright.session_token')?.slice(0, 20))
      await here.done('DELETE', `/api/account/sessions/${sessions.find(({ current }) => !current)?.id}`)
      expect(await there.me()).toMatchObject({ signedIn: false })
      expect(await here.me()).toMatchObject({ signedIn: true })
      await here.done('POST', '/api/account/sign-out-everywhere')
      expect(await here.me()).toMatchObject({ signedIn: false })
    })

    it('ends elsewhere when the password is changed, and the old one signs nobody in', async () => {
      const bench = await peopleBench(shared)
      const person = await bench.newcomer(await bench.setUp(), ['planner'])
      const other = bench.browser()
      await other.done('POST', '/api/sign-in', { email: person.email, password: PASSWORD })
      const newPassword = 'another long passphrase'
      const wrong = await person.send('POST', '/api/account/password', { password: 'not mine at all', newPassword })
      expect(wrong.status).toBe(401)
      await person.done('POST', '/api/account/password', { password: PASSWORD, newPassword })
      expect(await other.me()).toMatchObject({ signedIn: false })
      expect(await person.me()).toMatchObject({ signedIn: true })
      const old = await other.send('POST', '/api/sign-in', { email: person.email, password: PASSWORD })
      expect(old.status).toBe(401)
    })

    it('of somebody who reaches codes is renewed by two people, whose roles may decide on it', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      const registrar = await bench.newcomer(admin, ['registrar'], { secondFactor: true })
      const other = await bench.newcomer(admin, ['registrar'], { secondFactor: true })
      const planner = await bench.newcomer(admin, ['planner'], { secondFactor: true })
      const numberOf = async (who: typeof admin) => String((await who.me())['id'])
      const person = `/api/people/${await numberOf(registrar)}`
      const refused = [
        await admin.send('POST', `${person}/new-password`),
        await admin.send('DELETE', `${person}/second-factor`),
      ]
      for (const answer of refused) {
        expect(answer.status).toBe(403)
        expect(await answer.json()).toMatchObject({
          issues: [{ code: 'not-allowed', message: expect.stringContaining('two people') }],
        })
      }
      const { people } = (await admin.done('GET', '/api/people')) as { people: { id: string; renewedByTwo: boolean }[] }
      const two = new Set(people.filter(({ renewedByTwo }) => renewedByTwo).map(({ id }) => id))
      expect(two).toEqual(new Set(await Promise.all([admin, registrar, other].map(numberOf))))

      const bad = await admin.send('POST', `${person}/renewals`, { renews: 'passkey', reason: '' })
      expect(((await bad.json()) as { issues: object[] }).issues).toHaveLength(2)
      const made = await admin.done('POST', `${person}/renewals`, { renews: 'second-factor', reason: 'telephone lost' })
      const decision = `/api/renewals/${(made['renewal'] as { id: string }).id}/decision`
      const approval = { decision: 'approved', reason: 'known by sight' }
      for (const who of [admin, registrar, planner])
        expect((await who.send('POST', decision, approval)).status).toBe(403)
      expect((await planner.get('/api/renewals')).status).toBe(403)
      await other.done('POST', decision, approval)
      await admin.done('DELETE', `${person}/second-factor`)
      expect(await registrar.me()).toMatchObject({ signedIn: false })
      expect((await admin.send('DELETE', `${person}/second-factor`)).status).toBe(403)
      expect((await admin.send('POST', `/api/people/${await numberOf(planner)}/new-password`)).status).toBe(201)
    })

    it('with a recovery code lets its owner enrol anew without anybody else', async () => {
      const bench = await peopleBench(shared)
      const registrar = await bench.newcomer(await bench.setUp(), ['registrar'], { secondFactor: true })
      const [code] = registrar.recoveryCodes
      const here = bench.browser()
      await here.done('POST', '/api/sign-in', { email: registrar.email, password: PASSWORD })
      await here.done('POST', '/api/sign-in/second-factor', { code })
      expect(await here.me()).toMatchObject({ secondFactor: true })
      const off = (password: string) => here.send('POST', '/api/account/second-factor/removal', { password })
      expect((await off('not mine at all')).status).toBe(401)
      expect((await off(PASSWORD)).status).toBe(200)
      expect(await here.me()).toMatchObject({ signedIn: true, hasSecondFactor: false, secondFactor: false })
      expect((await off(PASSWORD)).status).toBe(403)
      await here.enrol()
      expect(await here.me()).toMatchObject({ secondFactor: true })
      expect(here.secret).not.toBe(registrar.secret)
      expect(await registrar.me()).toMatchObject({ signedIn: false })
    })

    it('is refused to what a page from elsewhere makes a browser send', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      for (const origin of ['https://elsewhere.example', 'null']) {
        const sent = await admin.send('POST', '/api/account/sign-out-everywhere', undefined, { origin })
        expect(sent.status).toBe(403)
      }
      const cookie = [...admin.cookies].map(([name, value]) => `${name}=${value}`).join('; ')
      const bare = await bench.app.request('/api/account/sign-out-everywhere', { method: 'POST', headers: { cookie } })
      expect(bare.status).toBe(403)
      expect(await admin.me()).toMatchObject({ signedIn: true })
    })

    it('leaves no password, code, link or secret in a log, an answer or an event', async () => {
      const bench = await peopleBench(shared)
      const admin = await bench.setUp()
      const made = await bench
        .browser()
        .send('POST', '/api/sign-in', { email: admin.email, password: 'mistyped-passphrase' })
      const answers = [await made.text()]
      const invited = await admin.done('POST', '/api/invitations', {
        name: 'B',
        email: bench.email('b'),
        roles: ['builder'],
      })
      const { token } = (await admin.done('POST', '/api/tokens', {
        name: 'Orders',
        scopes: ['orders:read'],
        days: 9,
      })) as { token: string }
      for (const path of ['/api/people', '/api/tokens', '/api/account/sessions', '/api/account/passkeys', '/api/me'])
        answers.push(await (await admin.get(path)).text())
      answers.push(
        await (await admin.send('POST', '/api/invitations/open', { link: 'x'.repeat(101), mine: PASSWORD })).text(),
      )
      answers.push(await (await admin.send('POST', '/api/sign-in', { email: PASSWORD, password: [PASSWORD] })).text())
      const intruder = await shared.administrator()
      const { rows } = await intruder.query(`SELECT subject, actor, body FROM events WHERE works_id = $1`, [
        bench.works,
      ])
      const { rows: kept } = await intruder.query(
        `SELECT i.*, t.*, a.* FROM invitations i FULL JOIN service_tokens t ON false FULL JOIN account_second_factors a ON false`,
      )
      const said = [...answers, ...bench.logged, JSON.stringify(rows), JSON.stringify(kept)].join('\n')
      for (const secret of [
        PASSWORD,
        'mistyped-passphrase',
        admin.secret,
        secretOf(invited['link']),
        token,
        ...admin.recoveryCodes,
      ])
        expect(said).not.toContain(secret)
      expect(rows.length).toBeGreaterThan(4)
    })
  })
})
