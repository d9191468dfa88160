import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** How the code reads and what it rests on: format and lint, types, import directions, dead code. One line each. */

const root = fileURLToPath(new URL('..', import.meta.url))
const PACKAGES = ['engine', 'papers', 'register', 'server', 'cli', 'web']

const checks = [
  ['format and lint', () => tool('@biomejs/biome/bin/biome', ['check', '--error-on-warnings'])],
  ['types', () => tool('typescript/bin/tsc', ['-b'])],
  ['types of tests', () => tool('typescript/bin/tsc', ['-p', 'tsconfig.tests.json'])],
  ['import directions', importDirections],
  ['dead code', () => tool('knip/bin/knip.js', ['--no-progress'])],
]
const failed = checks.filter(([name, run]) => {
  const { ok, output } = run()
  if (!ok) process.stdout.write(`${output.trimEnd()}\n`)
  process.stdout.write(`${ok ? 'ok    ' : 'FAILED'}  ${name}\n`)
  return !ok
})
process.exitCode = failed.length === 0 ? 0 : 1

function tool(program, words) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, 'node_modules', program), ...words], {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  })
  return { ok: status === 0, output: `${stdout}${stderr}`, stdout }
}

/** A checker that cannot read the sources sees no module and finds nothing wrong: it must have seen them all. */
function importDirections() {
  const words = ['--config', '.dependency-cruiser.cjs', ...PACKAGES.map((name) => `${name}/src`)]
  const program = 'dependency-cruiser/bin/dependency-cruise.mjs'
  const judged = tool(program, [...words, '--output-type', 'err-long'])
  if (!judged.ok) return judged
  const { modules } = JSON.parse(tool(program, [...words, '--output-type', 'json']).stdout)
  const seen = new Set(modules.map(({ source }) => source))
  const missing = PACKAGES.flatMap(sourceFiles).filter((file) => !seen.has(file))
  return { ok: missing.length === 0, output: `Not looked at: ${missing.join(', ')}` }
}

function sourceFiles(name) {
  return readdirSync(join(root, name, 'src'), { recursive: true, encoding: 'utf8' })
    .map((file) => `${name}/src/${file.replaceAll('\\', '/')}`)
    .filter((file) => /\.tsx?$/.test(file) && !/\.(test|testing)\.tsx?$/.test(file) && !file.endsWith('.d.ts'))
}
