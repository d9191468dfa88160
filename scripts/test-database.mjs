import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { ensurePostgres } from './find-postgres.mjs'

/**
 * The tests of the register in PostgreSQL, against the bundled server and Debian's. They stand apart from `npm test` as long as nothing but
 * `haspwright audit` uses that register: they start, kill and restart servers for minutes.
 */

const root = fileURLToPath(new URL('..', import.meta.url))
const { path, remedy } = ensurePostgres()
if (path === undefined) {
  process.stderr.write(`${remedy}\n`)
  process.exit(1)
}
const run = (command, words) =>
  spawnSync(command, words, {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
    env: { ...process.env, POSTGRES_BIN: path },
  }).status ?? 1
process.exitCode = run('npx', ['tsc', '-b', 'register']) || run('npx', ['vitest', 'run', '--project', 'database'])
