import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { setTimeout as wait } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'

/** Kills the program or its database again and again while codes are drawn, and then counts. Usage: kill-register.mjs [KILLS] [SEED] */

const register = new URL('../register/dist/index.js', import.meta.url).href
/** At most this long after the first answer of a new writer. */
const LONGEST_MS = 400

/** Draws three codes at a time, records an access and a measurement after each, and says so only when all are acknowledged. */
const WRITER = `
  import { openRegister } from '${register}'
  const [data, name, person] = process.argv.slice(1)
  const register = await openRegister(data, { environment: {} })
  const by = { id: person, name: 'W. Riter' }
  for (let i = 0; ; i++) {
    const key = name + '-' + i
    const locks = [1, 2, 3].map((n) => ({ id: key + '/' + n, order: name, name: 'A-' + n, lot: 'L', design: 'D' }))
    const request = { idempotencyKey: key, space: { id: 'kills', definition: {} }, locks, blindCodeOf: (n) => 'N' + n, actor: '' }
    for (;;)
      try {
        const drawn = await register.draw(request)
        await register.access.record({ who: name, order: key, paper: 'p', reason: 'r' })
        const taken = { id: key, lot: 'L', characteristic: 'gap', value: i + 0.1, unit: 'mm' }
        const measured = await register.floor.measurements.record(taken, by)
        if (!measured.ok) throw new Error(JSON.stringify(measured.issues))
        console.log(JSON.stringify({ key, value: taken.value, codes: drawn.value.map(({ lock, number }) => [lock, String(number)]) }))
        break
      } catch (cause) {
        if (cause.name !== 'RegisterTrouble') throw cause // the database was killed: the same request again
      }
  }
`

/** @returns what was acknowledged and what is in the register afterwards */
export async function killRegister({ kills, seed = 6 }) {
  const data = mkdtempSync(join(tmpdir(), 'haspwright-kills-'))
  const random = randomFrom(seed)
  const acknowledged = []
  const faults = []
  const done = { program: 0, database: 0 }
  try {
    const person = await openLot(data)
    for (let life = 0; done.program + done.database < kills; life++) {
      const writer = spawn(process.execPath, ['--input-type=module', '-e', WRITER, '--', data, `w${life}`, person], {
        stdio: ['ignore', 'pipe', 'pipe'],
      })
      const ended = new Promise((resolve) => writer.once('close', (status) => resolve(status)))
      writer.stderr.setEncoding('utf8').on('data', (text) => faults.push(text))
      const lines = createInterface({ input: writer.stdout })
      lines.on('line', (line) => acknowledged.push(JSON.parse(line)))
      await Promise.race([new Promise((resolve) => lines.once('line', resolve)), ended])
      while (random() < 0.5 && done.program + done.database < kills - 1) {
        await wait(random() * LONGEST_MS)
        if (killDatabase(data)) done.database++
      }
      await wait(random() * LONGEST_MS)
      writer.kill('SIGKILL')
      done.program++
      await ended
    }
    return { kills: done, acknowledged, faults, ...(await look(data)) }
  } finally {
    rmSync(data, { recursive: true, force: true })
  }
}

function killDatabase(data) {
  try {
    process.kill(
      Number(readFileSync(join(data, 'database', 'cluster', 'postmaster.pid'), 'utf8').split('\n')[0]),
      'SIGKILL',
    )
    return true
  } catch {
    return false // it is down at this moment
  }
}

async function withRegister(data, work) {
  const { openRegister } = await import(register)
  const opened = await openRegister(data, { environment: {} })
  try {
    return await work(opened)
  } finally {
    await opened.close()
  }
}

/** Opens the lot that is measured. @returns the number of the person who measures */
function openLot(data) {
  return withRegister(data, async ({ people: { invitations }, floor }) => {
    const newcomer = { name: 'W. Riter', email: 'writer@works.example', passwordHash: 'none' }
    const { value } = await invitations.accept(await invitations.makeSetUp(), newcomer)
    const by = { id: value.personId, name: newcomer.name }
    await floor.lots.open({ id: 'L', order: 'w', line: 'A', design: 'D', locks: 3 }, by)
    return by.id
  })
}

function look(data) {
  return withRegister(data, async (opened) => {
    const accesses = new Set((await opened.access.entries()).map(({ order }) => order))
    const codes = new Map((await opened.drawn('kills')).map(({ lock, number }) => [lock, String(number)]))
    const measurements = await opened.floor.measurements.list('L')
    return { events: await opened.audit(), gaps: await opened.auditCodes(), accesses, codes, measurements }
  })
}

/** What is wrong afterwards, in words; nothing when all is well. */
export function troublesOf({ acknowledged, faults, events, gaps, accesses, codes, measurements }) {
  const numbers = [...codes.values()]
  const valuesOf = (key) => measurements.filter(({ id }) => id === key).map(({ value }) => value)
  return [
    ...faults,
    ...(events.whole ? [] : [`event ${events.broken.number}: ${events.broken.message}`]),
    ...gaps.map(({ number, message }) => `number ${number}: ${message}`),
    ...(new Set(numbers).size === numbers.length ? [] : ['a number was given twice']),
    ...acknowledged.filter(({ key }) => !accesses.has(key)).map(({ key }) => `${key}: an acknowledged entry is lost`),
    ...acknowledged
      .filter(({ key, value }) => String(valuesOf(key)) !== String([value]))
      .map(({ key }) => `${key}: an acknowledged measurement is lost, twice or another`),
    ...acknowledged
      .flatMap((entry) => entry.codes)
      .filter(([lock, number]) => codes.get(lock) !== number)
      .map(([lock]) => `${lock}: an acknowledged code is lost or another`),
  ]
}

/** The same numbers from 0 to 1 for the same seed (linear congruential; constants of Numerical Recipes, from memory, unverified). */
function randomFrom(seed) {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const outcome = await killRegister({ kills: Number(process.argv[2] ?? 200), seed: Number(process.argv[3] ?? 6) })
  const troubles = troublesOf(outcome)
  const { kills, acknowledged, codes, measurements, events } = outcome
  process.stdout.write(
    `${kills.program} kills of the program, ${kills.database} of the database: ${acknowledged.length} entries acknowledged, ${codes.size} codes, ${measurements.length} measurements, ${events.events} events\n${troubles.join('\n') || 'nothing lost, nothing twice, chain whole'}\n`,
  )
  process.exitCode = troubles.length === 0 ? 0 : 1
}
