import { allocateCodes } from '@haspwright/engine'
import { onTestFinished } from 'vitest'
import { csvOf, listed } from '../code-acts-contract.testing.ts'
import { codeSpaceId, codeSpaceOf } from '../code-space.ts'
import { actor } from '../contract-bench.testing.ts'
import { demoDesign, demoOrder, orderOf, temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import type { Databases, DatabaseToCopy, TestDatabase } from '../postgres/test-database.testing.ts'

/** The key the lists of earlier codes are made with. */
export const WORKS_KEY = 'c0ffee0ddba11dead5ea1ed0b5e55ed1'
const because = { who: 'Mara', reason: 'key lost on the quay\n\\. "and" \t found' }
const by = { id: 'p1', name: 'R. Thorne' }

interface Filled {
  readonly name: string
  /** Marks and cuts of the list that was taken over. */
  readonly earlier: readonly (readonly [mark: string, note: string, cuts: readonly number[]])[]
}
const filled = new WeakMap<Databases, Promise<Filled>>()

/** A register of two works in which something of everything has happened, odd letters among it: filled once, and copied for each test. */
export async function usedRegister(databases: Databases) {
  const made = filled.get(databases) ?? fill(await databases.databaseToCopy())
  filled.set(databases, made)
  const { name, earlier } = await made
  const database = await databases.newDatabase(name)
  const opened = await workingIn(database)
  onTestFinished(() => opened.register.close())
  return { database, earlier, ...opened }
}

async function workingIn({ environment }: TestDatabase) {
  const [design, template] = [await demoDesign(), await demoOrder()]
  const register = await openRegister(temporaryFolder(), {
    environment: { ...environment, HASPWRIGHT_WORKS_KEY: WORKS_KEY },
  })
  const order = (id: string, quantity: number) => orderOf(template, id, [{ id: 'A', design: design.id, quantity }])
  const give = (id: string, quantity: number, { codes } = register) => {
    const asked = order(id, quantity)
    return codes.reserve(
      asked,
      [design],
      async (start) => {
        const made = allocateCodes({ order: asked, designs: [design], worksKeyHex: WORKS_KEY, ...start })
        return made.ok ? { ok: true, value: made.allocation } : made
      },
      { actor },
    )
  }
  const draw = (name: string) =>
    register.draw({
      idempotencyKey: name,
      space: { id: codeSpaceId(codeSpaceOf(design)), definition: codeSpaceOf(design) },
      locks: Array.from({ length: 40 }, (_, i) => ({
        id: `${name}/${i}`,
        order: 'd',
        name: `${i}`,
        lot: 'L',
        design: 'HB50',
      })),
      blindCodeOf: (number) => `B${number}`,
      actor,
    })
  return { register, design, order, give, draw }
}

async function fill({ name, ...database }: DatabaseToCopy): Promise<Filled> {
  const { register, design, order, give, draw } = await workingIn(database)
  await register.designs.save(design.id, design, { actor })
  await register.designs.save(design.id, { ...design, name: 'Tür\\n\u2028 “;" \\. \t' } as typeof design, { actor })
  for (const id of ['one', '26-042']) {
    await register.orders.save(id, order(id, 4), { actor })
    await give(id, 4)
  }
  const reserved = await register.codes.reserveRange(design, { from: '20', to: '29' }, because)
  await register.codes.withdraw(design, { number: '2' }, because)
  const earlier = (await listed(14, 11)).map(({ cuts }, i) => [`hasp ${i}`, '', cuts] as const)
  const takenOver = await register.codes.takeOver(design, { text: csvOf(earlier) }, because)
  if (!takenOver.ok) throw new Error('the list was refused')
  if (reserved.ok) await register.codes.release(design, reserved.value.id, because)
  await register.access.record({ who: 'Ł. Œuvre', order: 'one', paper: 'a\\b.pdf', reason: '' })
  await register.people.invitations.invite({ name: 'N', email: 'n@works.example', roles: ['planner'] }, by)
  await draw('first')
  await register.close()
  const client = await database.administrator()
  await onTheFloor(client)
  await client.end()
  const other = await openRegister(temporaryFolder(), { environment: database.environment, worksId: 'the other works' })
  await other.designs.save(design.id, design, { actor })
  await other.close()
  return { name, earlier }
}

/** What the floor and the accounts hold, with values that a copy could spoil. */
async function onTheFloor(client: Awaited<ReturnType<TestDatabase['administrator']>>): Promise<void> {
  await client.query(`
    INSERT INTO people VALUES ('works', 'p1', 'R. Thorne', true), ('works', 'p2', E'\\t', false);
    INSERT INTO person_roles VALUES ('works', 'p1', 'planner', '2031-01-01 00:00:00.000001+02');
    INSERT INTO accounts (id, name, email) VALUES ('p1', 'R. Thorne', 'r@works.example');
    INSERT INTO account_credentials (id, "accountId", "providerId", "userId", password) VALUES ('c1', 'p1', 'credential', 'p1', 'salt:hash');
    INSERT INTO account_sessions (id, token, "userId", "expiresAt") VALUES ('s1', 'token-of-a-session', 'p1', '2999-01-01');
    INSERT INTO lots (works_id, lot_id, order_id, line_id, design_id, locks) VALUES ('works', 'L', 'one', 'A', 'HB50', 4);
    INSERT INTO loads VALUES ('works', 'F1', 'furnace', 'pit furnace', '2031-01-01', NULL);
    INSERT INTO genealogy VALUES ('works', 'cut-lot', 'L', 'furnace-load', 'F1');
    INSERT INTO operations VALUES ('works', 'o1', 'L', 'harden', 'F1', 'p1', '', '2031-01-01 01:00', NULL);
    INSERT INTO measurements VALUES ('works', 'm1', 'L', 'hardness', 0.1::float8 + 0.2::float8, 'HRC', NULL, 'p2', '2031-01-01'),
      ('works', 'm2', 'L', 'gap', 5e-324, 'mm', '', NULL, 'infinity');
    INSERT INTO measurements VALUES ('works', 'a-correction', 'L', 'hardness', 41, 'HRC', NULL, 'p1', '2031-01-02', 'm1');
    INSERT INTO releases VALUES ('works', 'l1', 'L', 'p1', 1, '2031-01-03');`)
}
