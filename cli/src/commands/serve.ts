import { readFile } from 'node:fs/promises'
import { createSecureContext } from 'node:tls'
import type { Issue } from '@haspwright/engine'
import { dataFolder, openRegister } from '@haspwright/register'
import { serve as startServer } from '@haspwright/server'
import { type Command, tooManyWords } from '../command.ts'
import { dataOption } from '../data-option.ts'
import { jobsAtOnce, jobsOption } from '../jobs-option.ts'
import { newKeyNotice } from '../new-key-notice.ts'

const PORT = 4170
const HOST = '127.0.0.1'

/** The pages and the API, until stopped. */
export const serve: Command = {
  usage: '[--port N] [--host ADDRESS] [--tls-cert FILE --tls-key FILE] [--public-address URL] [--jobs N] [--data DIR]',
  options: [
    { name: 'port', value: 'N', help: `Port; else PORT, else ${PORT}; 0 takes a free one` },
    { name: 'host', value: 'ADDRESS', help: `Address to listen on; else HOST, else ${HOST}: this machine alone` },
    { name: 'tls-cert', value: 'FILE', help: 'Certificate chain (PEM) to serve over TLS; else TLS_CERT' },
    { name: 'tls-key', value: 'FILE', help: 'Its private key (PEM); else TLS_KEY' },
    {
      name: 'public-address',
      value: 'URL',
      help: 'As people open the pages when a proxy stands before; else PUBLIC_ADDRESS',
    },
    { ...jobsOption, help: `${jobsOption.help}; 0 leaves them all to workers` },
    dataOption,
  ],

  async run(given, terminal) {
    const { environment } = terminal
    const portText = given.text('port') ?? (environment['PORT'] || String(PORT))
    const extra = tooManyWords(given.words, 0)
    const publicAddress = given.text('public-address') ?? (environment['PUBLIC_ADDRESS'] || undefined)
    const tls = await tlsFiles(
      given.text('tls-cert') ?? (environment['TLS_CERT'] || undefined),
      given.text('tls-key') ?? (environment['TLS_KEY'] || undefined),
    )
    const asked = jobsAtOnce(given, environment, { least: 0 })
    const issues = [
      ...(isPort(portText) ? [] : [badPort(portText)]),
      ...(publicAddress === undefined || isOrigin(publicAddress) ? [] : [badAddress(publicAddress)]),
      ...tls.issues,
      ...(asked.ok ? [] : asked.issues),
      ...extra,
    ]
    if (issues.length > 0) return issues
    const data = dataFolder(given.text('data'), environment)
    const register = await openRegister(data, { environment, onNewKey: (file) => terminal.err(newKeyNotice(file)) })
    try {
      const server = await startServer({
        register,
        port: Number(portText),
        host: given.text('host') ?? (environment['HOST'] || HOST),
        log: (line) => terminal.err(`${line}\n`),
        onSetUpLink: (link) => terminal.err(setUpNotice(link)),
        tls: tls.files,
        publicAddress,
        jobsAtOnce: asked.ok ? asked.jobs : undefined,
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

const setUpNotice = (link: string) => `
Nobody is let in yet. Open this link to become the administrator. It works once, for 24 hours:

  ${link}

`

/** Reads certificate and key; one without the other is no TLS. */
async function tlsFiles(
  certFile: string | undefined,
  keyFile: string | undefined,
): Promise<{ files?: { cert: string; key: string } | undefined; issues: Issue[] }> {
  if (certFile === undefined && keyFile === undefined) return { issues: [] }
  if (certFile === undefined || keyFile === undefined)
    return {
      issues: [{ path: certFile === undefined ? '--tls-cert' : '--tls-key', code: 'missing', message: ONE_WITHOUT }],
    }
  const issues: Issue[] = []
  const contentOf = (path: string, file: string, holds: string) =>
    readFile(file, 'utf8').then(
      (text) => {
        if (!text.includes('-----BEGIN '))
          issues.push({ path, code: 'bad-format', message: `This file holds no ${holds} in PEM form.`, value: file })
        return text
      },
      () => {
        issues.push({ path, code: 'not-found', message: 'This file cannot be read.', value: file })
        return ''
      },
    )
  const cert = await contentOf('--tls-cert', certFile, 'certificate')
  const key = await contentOf('--tls-key', keyFile, 'private key')
  if (issues.length > 0) return { issues }
  try {
    createSecureContext({ cert, key })
    return { files: { cert, key }, issues }
  } catch {
    return {
      issues: [
        {
          path: '--tls-key',
          code: 'contradiction',
          message: 'Certificate and key do not belong together, or the key asks for a passphrase.',
          value: keyFile,
        },
      ],
    }
  }
}

const ONE_WITHOUT = 'TLS needs both: a certificate and its private key.'

const isOrigin = (text: string) => URL.canParse(text) && /^https?:\/\/[^/]+$/.test(text)

const badAddress = (value: string): Issue => ({
  path: '--public-address',
  code: 'bad-format',
  message: 'This is no address that pages are opened by.',
  value: value.slice(0, 80),
  allowed: 'such as https://works.example, without a path',
})

const isPort = (text: string) => /^[0-9]{1,5}$/.test(text) && Number(text) <= 65_535

const badPort = (value: string): Issue => ({
  path: '--port',
  code: 'out-of-range',
  message: 'This is no port.',
  value: value.slice(0, 80),
  allowed: 'whole number, 0 to 65535',
})
