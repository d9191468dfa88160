import { expect, onTestFinished } from 'vitest'
import { temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import type { Somebody } from '../people/somebody.ts'
import { someWorks, type TestDatabase } from '../postgres/test-database.testing.ts'
import type { Outcome } from '../register.ts'

/** What must go well. */
export function done<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`refused: ${JSON.stringify(outcome.issues)}`)
  return outcome.value
}

/** Paths and codes of what was refused. */
export function refusal(outcome: Outcome<unknown>): string[] {
  expect(outcome.ok).toBe(false)
  return outcome.ok ? [] : outcome.issues.map(({ path, code }) => `${path}: ${code}`)
}

/** A works with two people and two lots on its floor; the clock stands where a test puts it. */
export async function floorBench(database: TestDatabase, worksId = someWorks()) {
  const clock = { now: new Date('2031-05-05T06:00:00.000Z') }
  async function opened() {
    const register = await openRegister(temporaryFolder(), {
      environment: { ...database.environment, HASPWRIGHT_WORKS_KEY: 'ab'.repeat(16) },
      worksId,
      now: () => clock.now,
    })
    onTestFinished(() => register.close())
    return register
  }
  const register = await opened()
  const { invitations } = register.people
  const address = (name: string) => `${name.replace(/[^a-z]/gi, '')}@${worksId}.example`
  async function somebody(name: string, link: string): Promise<Somebody> {
    const came = await invitations.accept(link, { name, email: address(name), passwordHash: 'none', roles: [] })
    return { id: done(came).personId, name }
  }
  const operator = await somebody('O. Perator', await invitations.makeSetUp())
  const name = 'I. Nspector'
  const invited = done(await invitations.invite({ name, email: address(name), roles: [] }, operator))
  const inspector = await somebody(name, invited.secret)
  const { floor } = register
  const lot = (id: string) => ({ id, order: '26-900', line: 'A', design: 'HB50', locks: 3 })
  done(await floor.lots.open(lot('26-900-A1'), operator))
  done(await floor.lots.open(lot('26-900-A2'), operator))
  /** Events of the works in their order, those of a subject alone where one is named. */
  async function events(subject?: string) {
    const administrator = await database.administrator()
    const { rows } = await administrator.query<{ kind: string; body: string; actor: string }>(
      `SELECT kind, body, actor FROM events WHERE works_id = $1 AND subject = coalesce($2, subject) ORDER BY number`,
      [worksId, subject ?? null],
    )
    return rows
  }
  /** Locks of a lot with codes of their own. */
  async function coded(lotId: string, count: number) {
    const drawn = await register.draw({
      idempotencyKey: lotId,
      space: { id: 'floor', definition: {} },
      locks: Array.from({ length: count }, (_, i) => ({
        ...{ id: `${lotId}/${i + 1}`, order: '26-900', name: `${lotId}-${i + 1}`, lot: lotId, design: 'HB50' },
      })),
      blindCodeOf: (number) => `B${number}`,
      actor: 'R. Thorne',
    })
    return done(drawn).map(({ lock }) => lock)
  }
  return { register, floor, opened, operator, inspector, lot, clock, events, coded, worksId }
}
