import { describe, expect, it, onTestFinished } from 'vitest'
import { temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { onEveryServer, someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'

const RULES = {
  indispensable: 'administrator',
  twoPeopleFor: (roles: readonly string[]) => roles.includes('registrar'),
}
const HOUR = 3_600_000

/** A works with two administrators and a registrar, and a clock that can be put on. */
async function staffed({ environment }: TestDatabase) {
  const works = someWorks()
  let later = 0
  const register = await openRegister(temporaryFolder(), {
    environment: { ...environment, HASPWRIGHT_WORKS_KEY: 'ab'.repeat(16) },
    worksId: works,
    now: () => new Date(Date.now() + later),
  })
  onTestFinished(() => register.close())
  const { invitations, people, renewals } = register.people
  const accept = async (secret: string, name: string, roles: readonly string[]) => {
    const email = `${name.toLowerCase()}@${works}.example`
    const came = await invitations.accept(secret, { name, email, passwordHash: 'none', roles })
    if (!came.ok) throw new Error('refused')
    return { id: came.value.personId, name }
  }
  const one = await accept(await invitations.makeSetUp(), 'One', ['administrator'])
  const invited = async (name: string, role: string) => {
    const made = await invitations.invite({ name, email: `${name.toLowerCase()}@${works}.example`, roles: [role] }, one)
    if (!made.ok) throw new Error('refused')
    return accept(made.value.secret, name, [])
  }
  return {
    works,
    register,
    people,
    renewals,
    invitations,
    one,
    two: await invited('Two', 'administrator'),
    registrar: await invited('Keys', 'registrar'),
    planner: await invited('Plan', 'planner'),
    wait: (hours: number) => {
      later += hours * HOUR
    },
  }
}

type Staffed = Awaited<ReturnType<typeof staffed>>

const renew = ({ invitations, one }: Staffed, person: { id: string }) =>
  invitations.renewPassword(person.id, { by: one, leave: RULES })
const ask = async ({ renewals, one }: Staffed, person: { id: string }, renews: 'password' | 'second-factor') => {
  const asked = await renewals.ask({ person: person.id, renews, reason: 'left it on the ferry' }, one)
  if (!asked.ok) throw new Error(asked.issues[0]?.message)
  return asked.value
}
const APPROVED = { kind: 'approved', reason: 'known by sight' } as const

describe('letting somebody in anew who reaches codes', () => {
  onEveryServer(({ shared }) => {
    it('needs two people, once for each renewal; anybody else needs one', async () => {
      const works = await staffed(shared)
      const { renewals, two, registrar, planner } = works
      expect(await renew(works, planner)).toMatchObject({ ok: true })
      expect(await renew(works, registrar)).toMatchObject({ ok: false, issues: [{ code: 'not-allowed' }] })
      const { id } = await ask(works, registrar, 'password')
      expect(await renew(works, registrar)).toMatchObject({ ok: false })
      expect(await renewals.decide(id, APPROVED, two)).toMatchObject({ ok: true, value: { decision: { by: 'Two' } } })
      expect(await renew(works, registrar)).toMatchObject({ ok: true })
      expect(await renew(works, registrar)).toMatchObject({ ok: false })
      expect(await renewals.open()).toEqual([])
    })

    it('is approved for what was asked and for nothing else', async () => {
      const works = await staffed(shared)
      const { people, renewals, one, two, registrar } = works
      const { id } = await ask(works, registrar, 'second-factor')
      await renewals.decide(id, APPROVED, two)
      expect(await renew(works, registrar)).toMatchObject({ ok: false })
      const clear = () => people.clearSecondFactor(registrar.id, { by: one, leave: RULES })
      expect(await clear()).toMatchObject({ ok: true })
      expect(await clear()).toMatchObject({ ok: false })
    })

    it('is not decided by whoever asked, nor by whoever is let in anew, nor twice, and one does not ask for oneself', async () => {
      const works = await staffed(shared)
      const { renewals, one, two, registrar } = works
      const { id } = await ask(works, registrar, 'password')
      for (const who of [one, registrar])
        expect(await renewals.decide(id, APPROVED, who)).toMatchObject({ issues: [{ code: 'not-allowed' }] })
      await renewals.decide(id, { kind: 'refused', reason: 'not known' }, two)
      expect(await renewals.decide(id, APPROVED, two)).toMatchObject({ issues: [{ code: 'contradiction' }] })
      expect(await renew(works, registrar)).toMatchObject({ ok: false })
      const own = { person: one.id, renews: 'password', reason: 'forgotten' } as const
      expect(await renewals.ask(own, one)).toMatchObject({ ok: false })
      expect(await ask(works, registrar, 'password')).toMatchObject({ asker: one.id })
    })

    it('cannot be had by taking the role away first', async () => {
      const works = await staffed(shared)
      const { people, one, registrar } = works
      await people.setRoles(registrar.id, ['operator'], { by: one, rules: RULES })
      expect(await renew(works, registrar)).toMatchObject({ ok: false })
      expect(await people.needingTwo(RULES)).toEqual(new Set([registrar.id]))
    })

    it('is over after three days, decided or not, and may then be asked for again', async () => {
      const works = await staffed(shared)
      const { renewals, two, registrar, wait } = works
      const { id } = await ask(works, registrar, 'password')
      await expect(ask(works, registrar, 'password')).rejects.toThrow('asked for already')
      await renewals.decide(id, APPROVED, two)
      wait(73)
      expect(await renew(works, registrar)).toMatchObject({ ok: false })
      const late = await ask(works, registrar, 'password')
      wait(73)
      expect(await renewals.decide(late.id, APPROVED, two)).toMatchObject({ ok: false })
    })

    it('on the machine of the data folder wants a reason, which is written down', async () => {
      const works = await staffed(shared)
      const { invitations, registrar, register } = works
      const by = { id: 'the command line', name: 'root' }
      const made = await invitations.renewPassword(registrar.id, { by, leave: { reasonHere: 'the only registrar' } })
      expect(made).toMatchObject({ ok: true })
      const server = await shared.administrator()
      const { rows } = await server.query<{ actor: string; body: string }>(
        `SELECT actor, body FROM events WHERE works_id = $1 AND kind = 'invitation.made' ORDER BY number DESC LIMIT 1`,
        [works.works],
      )
      expect(rows[0]?.actor).toBe('root (the command line)')
      expect(JSON.parse(rows[0]?.body ?? '')).toMatchObject({ kind: 'new-password', reason: 'the only registrar' })
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('leaves who asked, who decided and what was used in the chain', async () => {
      const works = await staffed(shared)
      const { renewals, two, registrar, register } = works
      const { id } = await ask(works, registrar, 'password')
      await renewals.decide(id, APPROVED, two)
      await renew(works, registrar)
      const server = await shared.administrator()
      const { rows } = await server.query<{ kind: string; actor: string; body: string }>(
        `SELECT kind, actor, body FROM events WHERE works_id = $1 AND (kind LIKE 'renewal.%' OR body LIKE '%"renewal":%') ORDER BY number`,
        [works.works],
      )
      expect(rows.map(({ kind, actor }) => `${kind} ${actor.split(' ')[0]}`)).toEqual([
        'renewal.asked One',
        'renewal.approved Two',
        'invitation.made One',
      ])
      expect(JSON.parse(rows[2]?.body ?? '')).toMatchObject({ renewal: id })
      expect(await register.audit()).toMatchObject({ whole: true })
    })

    it('is refused by the database itself to one person in two places, a second decision and a second use', async () => {
      const works = await staffed(shared)
      const { one, two, registrar } = works
      await ask(works, registrar, 'password')
      const server = await shared.administrator()
      const decide = (who: string) =>
        server.query(
          `UPDATE renewal_requests SET decision = 'approved', decided_by = $2, decided_at = now(), decided_because = 'x' WHERE works_id = $1`,
          [works.works, who],
        )
      const use = () => server.query('UPDATE renewal_requests SET used_at = now() WHERE works_id = $1', [works.works])
      await expect(use()).rejects.toMatchObject({ code: '23514' })
      await expect(decide(one.id)).rejects.toMatchObject({ constraint: 'two_different_people' })
      await expect(decide(registrar.id)).rejects.toMatchObject({ constraint: 'nobody_renews_themselves' })
      await decide(two.id)
      await expect(decide(two.id)).rejects.toThrow('decided once')
      await use()
      await expect(use()).rejects.toThrow('used once')
    })
  })
})
