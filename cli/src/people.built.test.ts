import { describe, expect, it } from 'vitest'
import { haspwright, inRegister, issuesOf, temporaryFolder } from './command-line.testing.ts'

/** A works whose only registrar and only administrator is each one person. */
async function smallWorks() {
  const data = temporaryFolder()
  const email = 'keys@tarnmoor.example'
  await inRegister(data, async ({ people: { invitations } }) => {
    const came = { name: 'A. Dministrator', email: 'admin@tarnmoor.example', passwordHash: 'none' }
    const admin = await invitations.accept(await invitations.makeSetUp(), { ...came, roles: ['administrator'] })
    if (!admin.ok) throw new Error('refused')
    const by = { id: admin.value.personId, name: came.name }
    const invited = await invitations.invite({ name: 'K. Eys', email, roles: ['registrar'] }, by)
    if (!invited.ok) throw new Error('refused')
    await invitations.accept(invited.value.secret, { name: 'K. Eys', email, passwordHash: 'none' })
  })
  return { data, email }
}

describe('haspwright people', () => {
  it('lets the only registrar in anew on the machine of the data folder, with a reason that the chain keeps', async () => {
    const { data, email } = await smallWorks()
    const run = (...words: string[]) => haspwright(['people', ...words], { data })
    const listed = JSON.parse((await run('list')).out) as { people: { id: string; email: string }[] }
    const registrar = listed.people.find((person) => person.email === email)
    expect(registrar).toMatchObject({ roles: ['registrar'], secondFactor: false })
    const reason = 'the telephone is lost and there is nobody else'
    const made = await run('new-password', email, '--reason', reason)
    const { link } = JSON.parse(made.out) as { link: string }
    expect(link).toMatch(/^\/invitation#[A-Za-z0-9_-]{43}$/)
    expect(made.err).not.toContain(link)
    const cleared = await run('clear-second-factor', registrar?.id ?? '', '--reason', reason)
    expect(JSON.parse(cleared.out)).toMatchObject({ person: registrar?.id, secondFactor: false })
    await inRegister(data, async ({ people: { invitations, accounts }, audit }) => {
      expect(await invitations.behind(link.split('#')[1] ?? '')).toMatchObject({ kind: 'new-password', email })
      const events = await accounts.selectFrom('events').select(['kind', 'actor', 'body']).orderBy('number').execute()
      const renewed = events.slice(-2)
      expect(renewed.map(({ kind }) => kind)).toEqual(['invitation.made', 'person.second-factor-cleared'])
      for (const { actor, body } of renewed) {
        expect(actor).toContain('(the command line)')
        expect(body).toContain(reason)
      }
      expect(await audit()).toMatchObject({ whole: true })
    })
  })

  it('says who is not there', async () => {
    const { data } = await smallWorks()
    const ended = await haspwright(['people', 'new-password', 'nobody@tarnmoor.example', '--reason', 'lost'], { data })
    expect(issuesOf(ended)[0]).toMatchObject({ path: 'PERSON', code: 'not-found' })
  })

  it.each([
    [[], 'ACT'],
    [['promote'], 'promote'],
    [['list', 'all'], 'all'],
    [['new-password', '--reason', 'lost'], 'PERSON'],
    [['new-password', 'a@b.example'], '--reason'],
    [['clear-second-factor', 'a@b.example', '--reason', ' '], '--reason'],
    [['new-password', 'a@b.example', '--reason', 'lost'], '--data'],
  ])('refuses %j as bad input', async (words, path) => {
    expect(issuesOf(await haspwright(['people', ...words]))[0]?.path).toBe(path)
  })
})
