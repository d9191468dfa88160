import { describe, expect, it } from 'vitest'
import { worksKeyFromCommand } from './works-key-command.ts'

const KEY = 'AB'.repeat(32)
const given = (command: string) =>
  worksKeyFromCommand({ PATH: process.env['PATH'], HASPWRIGHT_WORKS_KEY_COMMAND: command })

describe('the command that gives the works key', () => {
  it('is asked when it is named, and its key is taken', async () => {
    expect(await given(`echo ${KEY}`)).toBe(KEY.toLowerCase())
    expect(await given(' ')).toBeUndefined()
    expect(await worksKeyFromCommand({})).toBeUndefined()
  })

  it.each([
    ['fails', `echo ${KEY}; exit 3`, 'failed'],
    ['prints no key', 'echo cafe-not-a-key', 'hexadecimal'],
    ['prints nothing', 'true', 'hexadecimal'],
    ['prints without end', `yes ${KEY}`, 'failed'],
    ['is not there', 'no-such-command-here', 'failed'],
  ])('is refused, without a word of what it printed, when it %s', async (_, command, words) => {
    const refused = await given(command).catch((cause: unknown) => cause as Error)
    expect(String(refused)).toContain(words)
    expect(JSON.stringify(refused) + String(refused)).not.toMatch(/ABAB|cafe/)
  })
})
