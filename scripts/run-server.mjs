import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const program = fileURLToPath(new URL('../cli/bin/haspwright.js', import.meta.url))

/** Starts the built server on a free port over an empty data folder with the demo in it. */
export async function runServer() {
  const data = mkdtempSync(join(tmpdir(), 'haspwright-'))
  const server = spawn(process.execPath, [program, 'serve', '--port', '0', '--data', data], {
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const stop = async () => {
    if (server.exitCode === null) {
      const ended = new Promise((resolve) => server.once('exit', resolve))
      server.kill('SIGTERM')
      await ended
    }
    rmSync(data, { recursive: true, force: true })
  }
  try {
    const setUpLink = new Promise((resolve) => {
      let printed = ''
      server.stderr.on('data', (piece) => {
        printed += piece
        const link = /https?:\/\/\S+#\S+/.exec(printed)?.[0]
        if (link !== undefined) resolve(link)
        process.stderr.write(String(piece).replace(/#\S+/g, '#…'))
      })
    })
    const address = await new Promise((resolve, reject) => {
      server.stdout.once('data', (line) => resolve(String(line).trim()))
      server.once('exit', (status) => reject(new Error(`the server ended with status ${status}`)))
    })
    return { address, setUpLink: await setUpLink, data, stop }
  } catch (cause) {
    await stop()
    throw cause
  }
}
