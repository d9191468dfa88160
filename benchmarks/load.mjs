import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { performance } from 'node:perf_hooks'
import { setTimeout as wait } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import { letPeopleIn } from '../scripts/let-people-in.mjs'

/**
 * A started server under requests of a working day, sent by the clock whether earlier ones are answered or not: what waits counts.
 * Asked for: 200 a second for 60 s on two cores, no error, p99 under 150 ms. Usage: load.mjs [SECONDS] [RATE]
 *
 * The first seconds, in which a program that has just been started is compiled, are asked for the same and told apart.
 */

const seconds = Number(process.argv[2] ?? 60)
const rate = Number(process.argv[3] ?? 200)
const FIRST_SECONDS = 10
const demo = new URL('../demo/', import.meta.url)
const demoFile = (path) => JSON.parse(readFileSync(new URL(path, demo), 'utf8'))
const order = demoFile('orders/26-041-harbour.json')
const design = demoFile('designs/hb50.json')

const data = mkdtempSync(join(tmpdir(), 'haspwright-bench-'))
const server = spawn(
  process.execPath,
  [fileURLToPath(new URL('../cli/bin/haspwright.js', import.meta.url)), 'serve', '--port', '0', '--data', data],
  { stdio: ['ignore', 'pipe', 'pipe'] },
)
const ended = new Promise((resolve) => server.once('close', resolve))
try {
  const person = await started()
  print('processors', `${cpus().length}, shared by server, database and this program`)
  await run((method, path, body, headers = {}) =>
    person.fetch(path, {
      method,
      headers: { 'content-type': 'application/json', ...headers },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    }),
  )
} finally {
  server.kill('SIGTERM')
  await ended
  rmSync(data, { recursive: true, force: true })
}

async function started() {
  let printed = ''
  server.stderr.setEncoding('utf8').on('data', (piece) => {
    printed += piece
  })
  const address = await new Promise((resolve, reject) => {
    server.stdout.once('data', (line) => resolve(line.toString().trim()))
    ended.then(() => reject(new Error(printed)))
  })
  const link = /http:\S+\/invitation#\S+/.exec(printed)?.[0] ?? ''
  return (await letPeopleIn(address, link)).everyRole
}

/** What is asked, how often among a thousand requests. */
function mix(ask) {
  let saves = 0
  let orders = 0
  // A design of its own for saves: those of the orders stay, or every order would be out of date.
  const saved = (version) => ({ ...design, id: 'HB50X', title: `Version ${version}` })
  let saving = Promise.resolve()
  const save = () => {
    // One after another: each follows the version before.
    saving = saving.then(() => {
      const follows = saves === 0 ? { 'if-none-match': '*' } : { 'if-match': `"${saves}"` }
      saves++
      return ask('PUT', '/api/designs/HB50X', saved(saves), follows)
    })
    return saving
  }
  const handIn = () =>
    ask('POST', '/api/orders', {
      ...order,
      id: `27-${++orders}`,
      lines: [{ ...order.lines[0], quantity: 10 }],
    })
  return [
    [250, 'one order with its plan', () => ask('GET', '/api/orders/26-041')],
    [150, 'list of orders', () => ask('GET', '/api/orders')],
    [200, 'one design', () => ask('GET', '/api/designs/HB50')],
    [120, 'list of designs', () => ask('GET', '/api/designs')],
    [100, 'counts of codes', () => ask('GET', '/api/codes')],
    [99, 'lots in hand', () => ask('GET', '/api/lots-in-hand')],
    [50, 'who saw which code', () => ask('GET', '/api/codes/log')],
    [30, 'one calculation', () => ask('POST', '/api/calc/body.fit', { nominalMm: 10, hole: 'H7', shaft: 'g6' })],
    [0.5, 'a design saved', save],
    [0.5, 'an order handed in and planned', handIn],
  ]
}

async function run(ask) {
  const kinds = mix(ask)
  const random = randomFrom(6)
  print('asked for', `${rate} a second for ${seconds} s`)
  const first = await askFor(FIRST_SECONDS, kinds, random)
  print(`the first ${FIRST_SECONDS} s, just started`, figures(first.answers))
  const { answers, took } = await askFor(seconds, kinds, random)
  print('answered after that', `${(answers.length / (took / 1000)).toFixed(1)} a second`)
  tell(answers, [...first.answers, ...answers])
}

/** Sends by the clock for so long, and waits for what is under way. */
async function askFor(secondsLong, kinds, random) {
  const answers = []
  const upTo = kinds.map((_, i) => kinds.slice(0, i + 1).reduce((sum, [weight]) => sum + weight, 0))
  const under = new Set()
  const began = performance.now()
  for (let n = 0; n < secondsLong * rate; n++) {
    const due = began + (n * 1000) / rate
    const early = due - performance.now()
    if (early > 1) await wait(early)
    const at = random() * upTo.at(-1)
    const [, name, send] = kinds.find((_, i) => at < upTo[i]) ?? kinds[0]
    const one = timed(name, send, answers, due).finally(() => under.delete(one))
    under.add(one)
  }
  await Promise.all(under)
  return { answers, took: performance.now() - began }
}

/** @param due when it should have been sent: a sender that is late counts against the answer */
async function timed(name, send, into, due = performance.now()) {
  let trouble
  try {
    const response = await send()
    await response.arrayBuffer()
    if (!response.ok) trouble = String(response.status)
  } catch (cause) {
    trouble = cause.cause?.code ?? cause.message
  }
  into.push({ name, took: performance.now() - due, trouble })
}

function tell(answers, all) {
  const failed = all.filter(({ trouble }) => trouble !== undefined).map(({ name, trouble }) => `${name}: ${trouble}`)
  print('errors', `${failed.length}`)
  for (const words of new Set(failed)) print(`  ${words}`, `${failed.filter((each) => each === words).length}`)
  print('all', figures(answers))
  for (const name of new Set(answers.map((answer) => answer.name)))
    print(`  ${name}`, figures(answers.filter((answer) => answer.name === name)))
}

function figures(some) {
  const took = some.map((answer) => answer.took).sort((a, b) => a - b)
  const at = (share) => took[Math.min(took.length - 1, Math.floor(took.length * share))].toFixed(0)
  return `${String(some.length).padStart(6)} answers, p50 ${at(0.5)} ms, p99 ${at(0.99)} ms, longest ${at(1)} ms`
}

function print(what, figure) {
  process.stdout.write(`${what.padEnd(36)}${figure}\n`)
}

/** The same numbers from 0 to 1 for the same seed, so that two runs ask the same. */
function randomFrom(seed) {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
}
