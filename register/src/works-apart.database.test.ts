import { describe, expect, it, onTestFinished } from 'vitest'
import { actor, bench } from './contract-bench.testing.ts'
import { temporaryFolder } from './data-folder.testing.ts'
import { openRegister } from './open-register.ts'
import { onEveryServer, someWorks, type TestDatabase } from './postgres/test-database.testing.ts'
import type { Register } from './register.ts'

const RULES = { indispensable: 'administrator', twoPeopleFor: () => false }
const LIMIT = { times: 1, seconds: 900 }
const OTHER = { id: 'p-other', name: 'O. Ther' }

async function opened({ environment }: TestDatabase, worksId: string) {
  const register = await openRegister(temporaryFolder(), {
    environment: { ...environment, HASPWRIGHT_WORKS_KEY: 'ab'.repeat(16) },
    worksId,
  })
  onTestFinished(() => register.close())
  return register
}

/** A works with something of every kind in it. */
async function busyWorks(test: TestDatabase, worksId: string) {
  const { register, design, order, numbers } = await bench(() => opened(test, worksId))
  await register.designs.save(design.id, design, { actor })
  await register.orders.save('26-900', order('26-900', 3), { actor })
  await numbers(order('26-900', 3))
  const { draw } = register
  await draw({
    idempotencyKey: 'one',
    space: { id: 'drawn', definition: {} },
    locks: [{ id: 'lock-1', order: '26-900', name: 'A-1', lot: 'L', design: design.id }],
    blindCodeOf: (number) => `B${number}`,
    actor,
  })
  const reserved = await register.codes.reserveRange(design, { from: '50', to: '59' }, { who: actor, reason: 'a fair' })
  await register.access.record({ who: actor, reason: 'a look', order: '26-900', paper: 'p' })
  const { invitations, tokens, lots, replacements, renewals, limits } = register.people
  const newcomer = { name: 'A. Dministrator', email: `admin@${worksId}.example`, passwordHash: 'none' }
  const admin = await invitations.accept(await invitations.makeSetUp(), { ...newcomer, roles: ['administrator'] })
  if (!admin.ok || !reserved.ok) throw new Error('refused')
  const { personId } = admin.value
  const by = { id: personId, name: newcomer.name }
  const invited = await invitations.invite({ name: 'N. Ew', email: `new@${worksId}.example`, roles: ['builder'] }, by)
  if (!invited.ok) throw new Error('refused')
  const { token, service } = await tokens.make({ name: 'Orders', scopes: ['orders:read'], days: 3 }, by)
  await lots.give({ order: '26-900', lot: 'L', person: personId }, OTHER)
  const asked = await replacements.ask('26-900', 'a lost key', by)
  if (!asked.ok) throw new Error('refused')
  const second = { ...newcomer, name: 'S. Econd', email: `second@${worksId}.example` }
  const way = await invitations.invite({ ...second, roles: ['registrar'] }, by)
  const registrar = way.ok ? await invitations.accept(way.value.secret, second) : way
  if (!registrar.ok) throw new Error('refused')
  const renewal = await renewals.ask({ person: registrar.value.personId, renews: 'password', reason: 'lost' }, by)
  if (!renewal.ok) throw new Error('refused')
  await limits.take('sign-in from here', LIMIT)
  const { floor } = register
  const lot = { id: 'L', order: '26-900', line: 'A', design: design.id, locks: 3 }
  const hardness = { id: 'm-1', lot: 'L', characteristic: 'hardness', value: 41, unit: 'HRC' }
  for (const recorded of [
    await floor.lots.open(lot, by),
    await floor.lots.cutFrom('L', 'heat 4711', by),
    await floor.loads.start({ id: 'F-1', kind: 'furnace', equipment: 'pit furnace', lots: ['L'] }, by),
    await floor.operations.begin({ id: 'o-1', lot: 'L', step: 'harden', load: 'F-1' }, by),
    await floor.measurements.record(hardness, by),
  ])
    if (!recorded.ok) throw new Error('refused')
  return {
    register,
    design,
    order: order('26-900', 3),
    numbers,
    ids: {
      person: personId,
      link: invited.value.secret,
      invitation: invited.value.invitation.id,
      token,
      service: service.id,
      request: asked.value.id,
      renewal: renewal.value.id,
      reservation: reserved.value.id,
    },
  }
}

type Busy = Awaited<ReturnType<typeof busyWorks>>

/** Everything that a works shows, as it is when there is nothing in it. */
async function expectNothing({ people, floor, ...register }: Register, { ids, design }: Busy) {
  for (const shelf of [register.designs, register.orders, register.works]) expect(await shelf.ids()).toEqual([])
  expect(await register.orders.latest('26-900')).toBeUndefined()
  expect(await register.orders.version('26-900', 1)).toBeUndefined()
  expect(await register.designs.versions(design.id)).toEqual([])
  expect(await register.codes.givenOut(design)).toMatchObject({ numbers: '0', reserved: '0', orders: [] })
  expect(await register.codes.blindCodeOf({ order: '26-900', line: 'A', number: 1 })).toBeUndefined()
  expect(await register.drawn('drawn')).toEqual([])
  expect(await register.access.entries()).toEqual([])
  expect(await register.eventHead()).toBeUndefined()
  expect(await register.audit()).toMatchObject({ whole: true, events: 0n })
  expect(await people.people.isEmpty()).toBe(true)
  expect(await people.people.list()).toEqual([])
  expect(await people.people.find(ids.person)).toBeUndefined()
  expect(await people.invitations.open()).toEqual([])
  expect(await people.invitations.behind(ids.link)).toBeUndefined()
  expect(await people.tokens.list()).toEqual([])
  expect(await people.tokens.holder(ids.token)).toBeUndefined()
  expect(await people.lots.list()).toEqual([])
  expect(await people.replacements.list()).toEqual([])
  expect(await people.replacements.isApproved('26-900')).toBe(false)
  expect(await floor.lots.list('26-900')).toEqual([])
  expect(await floor.lots.find('L')).toBeUndefined()
  expect(await floor.loads.find('F-1')).toBeUndefined()
  expect(await floor.loads.ofLot('L')).toEqual([])
  expect(await floor.operations.list('L')).toEqual([])
  expect(await floor.measurements.list('L')).toEqual([])
  expect(await floor.genealogy.heatsOf('L')).toEqual([])
  expect(await floor.genealogy.locksOf('F-1')).toEqual([])
  expect(await floor.genealogy.originOf({ order: '26-900', name: 'A-1' })).toBeUndefined()
  expect(await people.renewals.open()).toEqual([])
  expect(await people.people.needingTwo({ twoPeopleFor: () => true })).toEqual(new Set())
}

/** Tries to change what belongs to the other works, by its true numbers. */
async function meddle({ people, codes, floor, ...register }: Register, { ids, design }: Busy) {
  const because = { who: actor, reason: 'a try' }
  const kind = 'approved' as const
  const tried = [
    await people.people.setRoles(ids.person, [], { by: OTHER, rules: RULES }),
    await people.people.setActive(ids.person, false, { by: OTHER, rules: RULES }),
    await people.people.clearSecondFactor(ids.person, { by: OTHER, leave: RULES }),
    await people.invitations.renewPassword(ids.person, { by: OTHER, leave: RULES }),
    await people.renewals.ask({ person: ids.person, renews: 'password', reason: 'a try' }, OTHER),
    await people.renewals.decide(ids.renewal, { kind, reason: 'a try' }, OTHER),
    await people.invitations.withdraw(ids.invitation, OTHER),
    await people.invitations.accept(ids.link, { name: 'X', email: 'x@works.example', passwordHash: '' }),
    await people.tokens.revoke(ids.service, OTHER),
    await people.lots.takeBack({ order: '26-900', lot: 'L', person: ids.person }, OTHER),
    await people.replacements.decide(ids.request, { kind, reason: 'a try' }, OTHER),
    await codes.release(design, ids.reservation, because),
    await floor.lots.cutFrom('L', 'heat 4712', OTHER),
    await floor.loads.start({ id: 'F-2', kind: 'furnace', equipment: '', lots: ['L'] }, OTHER),
    await floor.loads.end('F-1', undefined, OTHER),
    await floor.operations.begin({ id: 'o-2', lot: 'L', step: 'build' }, OTHER),
    await floor.operations.end('o-1', undefined, OTHER),
    await floor.measurements.record({ id: 'm-2', lot: 'L', characteristic: 'x', value: 1, unit: '' }, OTHER),
    await floor.releases.release('L', OTHER),
  ]
  for (const outcome of tried) expect(outcome).toMatchObject({ ok: false })
  expect(await register.designs.save(design.id, design, { actor, expected: 1 })).toMatchObject({ ok: false })
}

describe('two works in one database', () => {
  onEveryServer(({ shared }) => {
    it('see nothing of each other, and change nothing of each other', async () => {
      const [one, two] = [someWorks(), someWorks()]
      const busy = await busyWorks(shared, one)
      const other = await opened(shared, two)
      const before = await shared.everything(one)
      await expectNothing(other, busy)
      await meddle(other, busy)
      await expectNothing(other, busy)
      expect(await other.people.limits.take('sign-in from here', LIMIT)).toBe(0)
      expect(await shared.everything(one)).toEqual(before)
      expect(await busy.register.people.limits.take('sign-in from here', LIMIT)).toBeGreaterThan(0)
    })

    it('number their orders, locks, draws and codes each for themselves', async () => {
      const [one, two] = [await busyWorks(shared, someWorks()), await busyWorks(shared, someWorks())]
      for (const { register, order, numbers } of [one, two]) {
        expect(await numbers(order)).toBe('0-2')
        expect(await register.drawn('drawn')).toMatchObject([{ lock: 'lock-1', number: 0n }])
        expect(await register.auditCodes()).toEqual([])
        expect(await register.audit()).toMatchObject({ whole: true })
      }
    })
  })
})
