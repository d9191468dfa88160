import { cpSync, existsSync, readdirSync, readFileSync, renameSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it, onTestFinished } from 'vitest'
import { environment as withKey } from '../code-acts-contract.testing.ts'
import { actor } from '../contract-bench.testing.ts'
import { allocateOneByOne, demoDesign, demoOrder, orderOf, temporaryFolder } from '../data-folder.testing.ts'
import { openRegister } from '../open-register.ts'
import { sharedDatabase, someWorks } from '../postgres/test-database.testing.ts'
import { RegisterTrouble } from '../register-trouble.ts'

/** A data folder as the version before the database wrote it: orders given codes, changed, withdrawn, reserved, taken over. */
const EARLIER = fileURLToPath(new URL('../../earlier-folder', import.meta.url))
const SPACE = '7231a7ee2c9f12ca'
const SAVED_AT = new Date('2026-03-04T05:06:07Z')

function earlierFolder() {
  const data = temporaryFolder()
  cpSync(EARLIER, data, { recursive: true })
  utimesSync(join(data, 'designs', 'HB50', '1.json'), SAVED_AT, SAVED_AT)
  const worksId = someWorks()
  const environment = { ...sharedDatabase().environment, ...withKey }
  return {
    data,
    file: (...path: string[]) => join(data, ...path),
    space: join(data, 'codes', 'spaces', `${SPACE}.json`),
    async open(other: NodeJS.ProcessEnv = {}) {
      const register = await openRegister(data, { environment: { ...environment, ...other }, worksId })
      onTestFinished(() => register.close())
      return register
    },
    /** What is in the register under these files, once they are out of the way. */
    async nothingTaken() {
      const register = await openRegister(temporaryFolder(), { environment, worksId })
      onTestFinished(() => register.close())
      expect(await register.audit()).toMatchObject({ whole: true, events: 0n })
      expect(await register.orders.ids()).toEqual([])
    },
  }
}

const reading = (file: string) => JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>

describe('files of an earlier version', () => {
  it('are taken over with every version, date, number, act and sealed code, and the register adds up', async () => {
    const { open, data } = earlierFolder()
    const register = await open()
    expect(await register.designs.versions('HB50')).toEqual([1, 2])
    expect(await register.designs.version('HB50', 1)).toMatchObject({ savedAt: SAVED_AT.toISOString() })
    expect((await register.designs.latest('HB50'))?.content.title).toBe('Harbour 50, second printing')
    expect(await register.orders.ids()).toEqual(['one', 'three', 'two'])
    expect(await register.works.versions('works')).toEqual([1])
    const design = await demoDesign()
    expect(await register.codes.givenOut(design)).toMatchObject({
      space: SPACE,
      numbers: '69',
      withdrawn: '6',
      imported: '3',
      passedOver: '0',
      reserved: '10',
      orders: ['one', 'three', 'two'],
      withdrawals: [
        { numbers: '3-4', who: 'planning', reason: 'order two: changed before its sheets were opened' },
        { numbers: '0-2', who: 'Mara', reason: 'order one: customer wants two more' },
        { numbers: '6', who: 'Mara', reason: 'key lost on the quay' },
      ],
      reservations: [{ id: '6dd10d86245e', numbers: '200-209' }],
      imports: [{ id: 'd02938049619', count: '3' }],
    })
    expect(await register.codes.earlierBlindCode(design, 'OLD-2')).toBe('C9J3942T')
    expect(await register.codes.blindCodeOf({ order: 'one', line: 'A', number: 1 })).toBe('J835392W')
    expect(await register.audit()).toMatchObject({ whole: true })
    expect(await register.auditCodes()).toEqual([])
    expect(readdirSync(data)).not.toContain('orders')
    expect(readdirSync(join(data, 'files-taken-over')).sort()).toEqual(readdirSync(EARLIER).sort())
  })

  it('keep the moment and the words of everybody who saw codes', async () => {
    const { open } = earlierFolder()
    const before = readFileSync(join(EARLIER, 'access-log.jsonl'), 'utf8')
    const entries = before
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as unknown)
    expect(await (await open()).access.entries()).toEqual(entries)
  })

  it('give an order the numbers it had, and the next one those that are free', async () => {
    const { open } = earlierFolder()
    const register = await open()
    const design = await demoDesign()
    const next = orderOf(await demoOrder(), 'next', [{ id: 'A', design: 'HB50', quantity: 2 }])
    for (const [order, numbers] of [
      [(await register.orders.latest('two'))?.content, '5-8'],
      [next, '14-15'],
    ] as const) {
      if (order === undefined) throw new Error('an order is missing')
      let had: unknown
      const outcome = await register.codes.reserve(
        order,
        [design],
        (start) => {
          had = start.given?.[0]?.numbers
          return allocateOneByOne(order)(start)
        },
        { actor },
      )
      expect(outcome).toMatchObject({ ok: true, value: { given: [{ numbers }] } })
      expect(had).toBe(order === next ? undefined : numbers)
    }
    expect(await register.auditCodes()).toEqual([])
  })

  it('are taken over once, also when it was broken off before they were put aside', async () => {
    const { open, data } = earlierFolder()
    const { events } = await (await open()).audit()
    for (const name of readdirSync(join(data, 'files-taken-over')))
      renameSync(join(data, 'files-taken-over', name), join(data, name))
    rmSync(join(data, 'files-taken-over'), { recursive: true })
    const again = await open()
    expect(await again.audit()).toMatchObject({ whole: true, events })
    expect(existsSync(join(data, 'orders'))).toBe(false)
    expect(await (await open()).audit()).toMatchObject({ events })
  })

  it('are told when they come back after they were taken over, and left where they are', async () => {
    const { open, data } = earlierFolder()
    await open()
    cpSync(join(EARLIER, 'orders'), join(data, 'orders'), { recursive: true })
    await expect(open()).rejects.toThrow('taken over before')
    expect(existsSync(join(data, 'orders', 'one', '1.json'))).toBe(true)
  })

  it('are not mixed with what the register holds already', async () => {
    const { open, data } = earlierFolder()
    renameSync(join(data, 'orders'), join(data, 'kept'))
    for (const name of ['designs', 'works', 'codes', 'access-log.jsonl']) rmSync(join(data, name), { recursive: true })
    const register = await open()
    const order = await demoOrder()
    await register.orders.save(order.id, order, { actor })
    renameSync(join(data, 'kept'), join(data, 'orders'))
    await expect(open()).rejects.toThrow('holds other data already')
    expect(await register.orders.ids()).toEqual([order.id])
  })

  it.each([
    ['half written', (text: string) => text.slice(0, 40)],
    ['empty', () => ''],
    ['of another kind', () => '{"schema": "haspwright/works/1"}'],
  ])('that are %s are named with what to do, and nothing is taken over', async (_, spoil) => {
    for (const path of [
      ['designs', 'HB50', '2.json'],
      ['orders', 'one', '1.json'],
      ['codes', 'spaces', `${SPACE}.json`],
      ['codes', 'orders', 'three', '1.json'],
      ['codes', 'lists', SPACE, 'd02938049619.json'],
    ]) {
      const { open, file, nothingTaken, data } = earlierFolder()
      const damaged = file(...path)
      writeFileSync(damaged, spoil(readFileSync(damaged, 'utf8')))
      const trouble = await open().catch((cause: unknown) => cause)
      expect(trouble).toBeInstanceOf(RegisterTrouble)
      expect((trouble as RegisterTrouble).message).toContain(damaged)
      expect((trouble as RegisterTrouble).message).toContain('Nothing was taken over')
      await nothingTaken()
      expect(readdirSync(data)).toContain('orders')
    }
  })

  it('that are lost or older than others are named: with them codes would be given twice', async () => {
    const older = earlierFolder()
    const state = reading(older.space)
    writeFileSync(older.space, JSON.stringify({ ...state, given: '0-9' }))
    await expect(older.open()).rejects.toThrow('older than the reservations')
    rmSync(older.space)
    await expect(older.open()).rejects.toThrow('missing, though order')
    const list = earlierFolder()
    rmSync(list.file('codes', 'lists'), { recursive: true })
    await expect(list.open()).rejects.toThrow('list of earlier codes is missing')
    await list.nothingTaken()
  })

  it('with a sealed row that was moved, or under another works key, are not taken over', async () => {
    const moved = earlierFolder()
    const file = moved.file('codes', 'lists', SPACE, 'd02938049619.json')
    const { rows, ...list } = reading(file) as { rows: { line: number; sealed: string }[] }
    const [first, second, ...others] = rows
    const exchanged = [{ ...first, sealed: second?.sealed }, { ...second, sealed: first?.sealed }, ...others]
    writeFileSync(file, JSON.stringify({ ...list, rows: exchanged }))
    await expect(moved.open()).rejects.toThrow('does not open')
    await moved.nothingTaken()
    const otherKey = earlierFolder()
    await expect(otherKey.open({ HASPWRIGHT_WORKS_KEY: 'ab'.repeat(16) })).rejects.toThrow('another works key')
    await expect(otherKey.open({ HASPWRIGHT_WORKS_KEY: '' })).rejects.toThrow('works key is missing')
    await otherKey.nothingTaken()
  })

  it('from before numbers were kept line by line keep what was given as given, and the blind codes of its locks', async () => {
    const { open, file, space } = earlierFolder()
    const { space: shape } = reading(space)
    rmSync(file('codes'), { recursive: true })
    cpSync(join(EARLIER, 'codes', 'works-key-check.json'), file('codes', 'works-key-check.json'))
    const write = (path: string[], content: object) => {
      const target = file('codes', ...path)
      cpSync(join(EARLIER, 'access-log.jsonl'), target) // makes the folders on its way
      writeFileSync(target, JSON.stringify(content))
    }
    write(['spaces', `${SPACE}.json`], { schema: 'haspwright/code-space/1', space: shape, next: '5' })
    write(['orders', 'one', '1.json'], {
      schema: 'haspwright/reservation/1',
      order: 'one',
      fingerprint: 'f',
      ranges: [{ design: 'HB50', space: SPACE, start: '0', count: '3' }],
      locks: [{ name: 'A-001', lot: 'one-A1', blindCode: 'OLD0001' }],
    })
    const register = await open()
    expect(await register.codes.blindCodeOf({ order: 'one', line: 'A', number: 1 })).toBe('OLD0001')
    // Two numbers were taken when a program ended in the middle: they stay out of use, and it is said.
    expect(await register.codes.givenOut(await demoDesign())).toMatchObject({
      numbers: '3',
      withdrawn: '2',
      withdrawals: [{ numbers: '3-4', reason: expect.stringContaining('given to none') }],
    })
    expect(await register.auditCodes()).toEqual([])
  })

  it('keep a half line that a power cut left in the access log where it is', async () => {
    const { open, file } = earlierFolder()
    writeFileSync(file('access-log.jsonl'), '{"at": "2026', { flag: 'a' })
    expect(await (await open()).access.entries()).toHaveLength(8)
    const damaged = earlierFolder()
    writeFileSync(damaged.file('access-log.jsonl'), '{"who": 7}\n', { flag: 'a' })
    await expect(damaged.open()).rejects.toThrow('line 9')
  })
})
