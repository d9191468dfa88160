import { spawn, spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { Design } from '@haspwright/engine'
import { describe, expect, it, onTestFinished } from 'vitest'
import { demoJson, inRegister, programLine, temporaryFolder } from './command-line.testing.ts'

const SPOKEN = 'nine brass hasps in a row'
/** Gives a program a terminal of its own (util-linux). */
const hasTerminals = spawnSync('script', ['--version']).stdout?.includes('util-linux') === true

/** A person at a terminal: types an answer each time the screen shows what they wait for. */
async function atTerminal(commandLine: string, environment: NodeJS.ProcessEnv, answers: readonly [string, string][]) {
  const child = spawn('script', ['--quiet', '--return', '--command', commandLine, '/dev/null'], { env: environment })
  onTestFinished(() => void child.kill('SIGKILL'))
  let screen = ''
  let read = 0
  const waiting = [...answers]
  child.stdout.setEncoding('utf8').on('data', (piece: string) => {
    screen += piece
    const next = waiting[0]
    const at = next === undefined ? -1 : screen.indexOf(next[0], read)
    if (next === undefined || at < 0) return
    read = at + next[0].length
    waiting.shift()
    child.stdin.write(next[1])
  })
  const status = await new Promise<number | null>((resolve) => child.once('close', resolve))
  return { status, screen }
}

describe.skipIf(!hasTerminals)('a passphrase typed at a terminal', () => {
  it('is asked for twice, shown to nobody, and a slip of the fingers can be taken back', async () => {
    const data = temporaryFolder()
    await inRegister(data, ({ designs }) =>
      designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }),
    )
    const file = join(temporaryFolder(), 'register.backup')
    const { line, environment } = await programLine(['backup', file], { data })
    const { status, screen } = await atTerminal(line, environment, [
      ['Passphrase: ', `${SPOKEN}x\u007f\r`],
      ['Once more: ', `${SPOKEN}\r`],
    ])
    expect(screen).not.toContain('brass')
    expect(status).toBe(0)
    expect(existsSync(file)).toBe(true)
  })

  it('that is not the same twice does nothing', async () => {
    const data = temporaryFolder()
    await inRegister(data, ({ designs }) =>
      designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }),
    )
    const file = join(temporaryFolder(), 'register.backup')
    const { line, environment } = await programLine(['backup', file], { data })
    // Both at once, as they are pasted: what follows the first line is the answer to the second question.
    const { status, screen } = await atTerminal(line, environment, [['Passphrase: ', `${SPOKEN}\rten brass hasps\r`]])
    expect(screen).toContain('not the same')
    expect(screen).not.toContain('brass')
    expect(status).not.toBe(0)
    expect(existsSync(file)).toBe(false)
  })

  it('is left with Ctrl-C, which leaves the terminal as it was', async () => {
    const data = temporaryFolder()
    await inRegister(data, ({ designs }) =>
      designs.save('HB50', demoJson('designs/hb50.json') as Design, { actor: 'R' }),
    )
    const { line, environment } = await programLine(['backup', join(temporaryFolder(), 'register.backup')], { data })
    const { screen } = await atTerminal(`${line}; echo "status $?"; stty -a`, environment, [
      ['Passphrase: ', `${SPOKEN}\u0003`],
    ])
    expect(screen).toContain('status 130')
    expect(screen).toMatch(/ echo /)
    expect(screen).toMatch(/ icanon /)
    expect(screen).not.toContain('brass')
  })
})
