import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { ensureBrowser } from './find-browser.mjs'
import { ensurePostgres } from './find-postgres.mjs'

/** Everything that must hold: the build, all tests, the pages in a browser, the checks over the code. Ends with the totals. */

const root = fileURLToPath(new URL('..', import.meta.url))
const reports = mkdtempSync(join(tmpdir(), 'haspwright-reports-'))
const totals = { passed: 0, failed: 0 }
let ok = true

try {
  if (step('npm', ['run', 'build'])) {
    unitTests()
    browserTests()
  }
  step('node', ['scripts/check.mjs'])
} finally {
  rmSync(reports, { recursive: true, force: true })
}
process.stdout.write(`${totals.passed} passed, ${totals.failed} failed\n`)
process.exitCode = ok && totals.failed === 0 && totals.passed > 0 ? 0 : 1

/** Runs a command in sight of whoever waits; a command that fails makes the whole run fail. */
function step(command, words, env = {}) {
  process.stdout.write(`\n> ${command} ${words.join(' ')}\n`)
  const { status, error } = spawnSync(command, words, {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
    env: { ...process.env, ...env },
  })
  if (error) process.stderr.write(`${error.message}\n`)
  if (status !== 0) ok = false
  return status === 0
}

function unitTests() {
  const report = join(reports, 'unit.json')
  const { path, remedy } = ensurePostgres()
  if (path === undefined) {
    process.stderr.write(`${remedy}\n`)
    if (process.env.CI) ok = false
  }
  step('npx', ['vitest', 'run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`])
  const counted = readReport(report, 'unit tests')
  add(counted?.numPassedTests ?? 0, counted?.numFailedTests ?? 0)
}

function browserTests() {
  if (!hasBrowserTests()) {
    process.stderr.write('There are no browser tests in web/e2e.\n')
    ok = false
    return
  }
  const { path, remedy } = ensureBrowser()
  if (path === undefined) {
    process.stderr.write(`${remedy}\n`)
    ok = false
    return
  }
  const report = join(reports, 'browser.json')
  step('npx', ['playwright', 'test', '--reporter=list,json'], {
    PLAYWRIGHT_JSON_OUTPUT_NAME: report,
    CHROMIUM_PATH: path,
  })
  const { expected = 0, unexpected = 0, flaky = 0 } = readReport(report, 'browser tests')?.stats ?? {}
  add(expected, unexpected + flaky)
}

function hasBrowserTests() {
  const folder = join(root, 'web', 'e2e')
  return existsSync(folder) && readdirSync(folder).some((name) => /\.(test|spec)\.ts$/.test(name))
}

function readReport(path, what) {
  if (existsSync(path)) return JSON.parse(readFileSync(path, 'utf8'))
  process.stderr.write(`The ${what} left no report.\n`)
  ok = false
  return undefined
}

function add(passed, failed) {
  totals.passed += passed
  totals.failed += failed
}
