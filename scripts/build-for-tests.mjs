import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const compiler = fileURLToPath(new URL('../node_modules/typescript/bin/tsc', import.meta.url))

/** Builds the command line and all it rests on, where anything changed since: some tests run the built programs. */
export default function setUp() {
  const { status, stdout } = spawnSync(process.execPath, [compiler, '-b', 'cli'], { cwd: root, encoding: 'utf8' })
  if (status !== 0) throw new Error(`The programs under test do not build.\n${stdout}`)
}
