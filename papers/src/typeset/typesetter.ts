import { fileURLToPath } from 'node:url'
import { type NodeCompiler as Compiler, NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler'
import { loadFonts } from './fonts.ts'
import { library } from './library.ts'

/** Sets sheets as PDF. Data goes in as JSON and is never part of the markup: no name can break or command a sheet. */
export interface Typesetter {
  /**
   * @param template markup that reads `data`
   * @throws when the template itself is at fault
   */
  pdf(template: string, data: unknown): Uint8Array
  /** Whether a sheet sets with its mathematics, nothing printed as TeX for want of better. */
  sets(template: string, data: unknown): boolean
  /** Drops what was kept to set the next sheet faster: everything, or what the last few sheets did not need. */
  forget(what: 'everything' | 'what is old'): void
}

let shared: Promise<Typesetter> | undefined

/** One compiler for all sheets: fonts are read once, and what two sheets have in common is set once. */
export function typesetter(): Promise<Typesetter> {
  shared ??= create()
  return shared
}

async function create(): Promise<Typesetter> {
  const compiler = NodeCompiler.create({
    workspace: fileURLToPath(new URL('.', import.meta.url)),
    fontArgs: [{ fontBlobs: await loadFonts() }],
  })
  return {
    pdf(template, data) {
      const content = `${library}\n${template}`
      const json = dataText(data)
      // A formula that converts but does not set would cost the whole sheet: set it as TeX then.
      return set(compiler, content, { data: json, formulas: 'set' }) ?? strictly(compiler, content, json)
    },
    forget: (what) => compiler.evictCache(what === 'everything' ? 0 : 30),
    sets: (template, data) =>
      set(compiler, `${library}\n${template}`, { data: dataText(data), formulas: 'set' }) !== null,
  }
}

/** The sheets' typeface has no narrow no-break space: the plain one keeps figure and unit together too. */
function dataText(data: unknown): string {
  return JSON.stringify(data).replaceAll('\u202f', '\u00a0')
}

function strictly(compiler: Compiler, content: string, json: string): Uint8Array {
  const bytes = set(compiler, content, { data: json, formulas: 'tex' })
  if (bytes === null) throw new Error(`A sheet could not be set: ${problems(compiler, content, json)}`)
  return bytes
}

function set(compiler: Compiler, mainFileContent: string, inputs: Record<string, string>): Uint8Array | null {
  const { result } = compiler.compile({ mainFileContent, inputs })
  return result === null ? null : new Uint8Array(compiler.pdf(result))
}

/** What the template did wrong, without the data: a sheet may hold secrets. */
function problems(compiler: Compiler, mainFileContent: string, data: string): string {
  const error = compiler.compile({ mainFileContent, inputs: { data, formulas: 'tex' } }).takeError()
  if (error === null) return 'unknown'
  return `${compiler.fetchDiagnostics(error).length} problems, the first of kind ${error.kind}`
}
