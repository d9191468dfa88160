import { describe, expect, it } from 'vitest'
import { haspwright } from './command-line.testing.ts'

/** Names every module on standard error as it is loaded. */
const NAMES_MODULES = `export async function resolve(name, context, next) {
  const found = await next(name, context)
  process._rawDebug('module ' + found.url)
  return found
}`
const hook = `import { register } from 'node:module'; register(${JSON.stringify(asUrl(NAMES_MODULES))})`

function asUrl(script: string): string {
  return `data:text/javascript,${encodeURIComponent(script)}`
}

async function loadedBy(...words: string[]): Promise<string[]> {
  const { status, err } = await haspwright(words, { node: ['--import', asUrl(hook)] })
  expect(status).toBe(0)
  const loaded = err.split('\n').flatMap((line) => /^module (file:.*)/.exec(line)?.[1] ?? [])
  expect(loaded.length).toBeGreaterThan(3)
  return loaded
}

const having = (loaded: readonly string[], part: RegExp) => loaded.filter((module) => part.test(module))

describe('a command line loads what it needs', () => {
  it('and for its version or the list of commands nothing of the works', async () => {
    for (const word of ['--version', '--help'])
      expect(having(await loadedBy(word), /node_modules|\/(engine|papers)\/|cli\/dist\/commands\//)).toEqual([])
  })

  it('and for a calculation neither papers, pages nor database', async () => {
    const loaded = await loadedBy('calc', '--list')
    expect(having(loaded, /\/engine\//).length).toBeGreaterThan(0)
    expect(having(loaded, /\/papers\/|node_modules\/(hono|kysely|pg)\//)).toEqual([])
  })
})
