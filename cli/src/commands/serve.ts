import type { Issue } from '@haspwright/engine'
import { dataFolder, openRegister } from '@haspwright/register'
import { serve as startServer } from '@haspwright/server'
import { type Command, tooManyWords } from '../command.ts'
import { newKeyNotice } from '../new-key-notice.ts'

const PORT = 4170
const HOST = '127.0.0.1'

/** The pages and the API, until stopped. */
export const serve: Command = {
  usage: '[--port N] [--host ADDRESS] [--data DIR]',
  options: [
    { name: 'port', value: 'N', help: `Port; else PORT, else ${PORT}; 0 takes a free one` },
    { name: 'host', value: 'ADDRESS', help: `Address to listen on; else HOST, else ${HOST}: this machine alone` },
    { name: 'data', value: 'DIR', help: 'Data folder; else HASPWRIGHT_DATA, else ./haspwright-data' },
  ],

  async run(given, terminal) {
    const { environment } = terminal
    const portText = given.text('port') ?? (environment['PORT'] || String(PORT))
    const extra = tooManyWords(given.words, 0)
    const issues = isPort(portText) ? extra : [badPort(portText), ...extra]
    if (issues.length > 0) return issues
    const data = dataFolder(given.text('data'), environment)
    const register = await openRegister(data, { environment, onNewKey: (file) => terminal.err(newKeyNotice(file)) })
    try {
      const server = await startServer({
        register,
        data,
        port: Number(portText),
        host: given.text('host') ?? (environment['HOST'] || HOST),
        log: (line) => terminal.err(`${line}\n`),
      })
      if (!server.ok) return server.issues
      await terminal.out(`${server.address}\n`)
      await new Promise<void>((resolve) => terminal.onStop(resolve))
      await server.close()
      return 'done'
    } finally {
      await register.close()
    }
  },
}

const isPort = (text: string) => /^[0-9]{1,5}$/.test(text) && Number(text) <= 65_535

const badPort = (value: string): Issue => ({
  path: '--port',
  code: 'out-of-range',
  message: 'This is no port.',
  value: value.slice(0, 80),
  allowed: 'whole number, 0 to 65535',
})
