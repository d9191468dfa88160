import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import { Design, type Issue, read, type Works } from '@haspwright/engine'
import type { Paper } from '@haspwright/papers'
import { dataFolder, hasRegister, jsonIssue, onDisk, openRegister, readJsonFile, WORKS_ID } from '@haspwright/register'
import {
  DesignSolids,
  FILE_KINDS,
  HandingPlanner,
  madeInFolder,
  reportWithRack,
  type SolidFile,
} from '@haspwright/server'
import { type Command, jsonText, missingWord, tooManyWords } from '../command.ts'
import { inFile } from '../in-file.ts'
import { checkOut } from '../paper-folder.ts'
import { progressOn } from '../progress.ts'

/** A design as files for other programs. */
export const exportSolids: Command = {
  usage: 'DESIGN.json --out DIR\nID --out DIR',
  options: [
    { name: 'out', value: 'DIR', help: 'Folder for the files; made where there is none' },
    { name: 'only', value: 'KINDS', help: `Some of ${FILE_KINDS.join(',')}; all unless given` },
    {
      name: 'data',
      value: 'DIR',
      help: 'Data folder with stored designs and what was built before; else HASPWRIGHT_DATA, else ./haspwright-data',
    },
    { name: 'quiet', help: 'No progress' },
    { name: 'json', help: 'Print one JSON object and nothing else' },
  ],
  notes: [
    'step: solids of every part and of the lock, locked and open (AP242). 3mf: the same parts as triangles.',
    'dxf, svg: drawings with sizes before plating and finished. DIR/ID-solids.json holds volumes, masses, plated areas by part and rack, walls, and how the parts stand to each other.',
    'Files of that name in DIR are written over; others stay.',
  ],

  async run(given, terminal) {
    const [word] = given.words
    const out = given.text('out')
    const kinds = kindsOf(given.text('only'))
    if (word === undefined || out === undefined || !kinds.ok)
      return [
        ...(word === undefined ? [missingWord('DESIGN.json or ID')] : []),
        ...(out === undefined ? [missingWord('--out')] : []),
        ...(kinds.ok ? [] : kinds.issues),
      ]
    const refusals = [...tooManyWords(given.words, 1), ...(await checkOut(out))]
    if (refusals.length > 0) return refusals

    const data = dataFolder(given.text('data'), terminal.environment)
    const stored = await lookUp(word, data, terminal.environment)
    const found = await findDesign(word, stored.design)
    if (!found.ok) return found.issues
    const progress = progressOn(terminal, given.has('quiet'))
    const planner = new HandingPlanner()
    try {
      const solids = new DesignSolids({ planner, made: madeInFolder(join(data, 'cache')) })
      const files = await solids.files(found.design, [...kinds.value, 'report'], progress.part(0, 1))
      const rack = { design: found.design, works: stored.works }
      const papers = await Promise.all(files.map((file) => asPaper(file, rack)))
      progress.end()
      const { writePapers } = await import('@haspwright/papers') // the typesetter is large: loaded when it is needed
      await onDisk(out, () => writePapers(papers, out))
      const { id, revision } = found.design
      if (given.has('json'))
        await terminal.out(jsonText({ design: id, revision, out, files: papers.map(listed) }, terminal))
      else await terminal.out(`${papers.length} files of design ${id} rev ${revision} are in ${out}.\n`)
    } finally {
      await planner.close()
    }
    return 'done'
  },
}

type FileKind = (typeof FILE_KINDS)[number]

function kindsOf(
  given: string | undefined,
): { ok: true; value: readonly FileKind[] } | { ok: false; issues: readonly Issue[] } {
  if (given === undefined) return { ok: true, value: FILE_KINDS }
  const words = given.split(',').map((word) => word.trim())
  const unknown = words.filter((word) => !FILE_KINDS.some((kind) => kind === word))
  if (unknown.length === 0) return { ok: true, value: FILE_KINDS.filter((kind) => words.includes(kind)) }
  return {
    ok: false,
    issues: unknown.map((value) => ({
      path: '--only',
      code: 'not-a-choice',
      message: 'There is no such kind of file.',
      value: value.slice(0, 80),
      allowed: FILE_KINDS.join(', '),
    })),
  }
}

/** A file where there is one of that name or the word looks like one, else a stored design of that number. */
async function findDesign(
  word: string,
  stored: Design | undefined,
): Promise<{ ok: true; design: Design } | { ok: false; issues: readonly Issue[] }> {
  const isFile = word.endsWith('.json') || (await stat(word).catch(() => undefined))?.isFile() === true
  if (!isFile) return stored === undefined ? { ok: false, issues: [noDesign(word)] } : { ok: true, design: stored }
  const outcome = await readJsonFile(word)
  if (outcome.kind !== 'json') return { ok: false, issues: inFile(word, [jsonIssue(outcome)]) }
  const reading = read(Design, outcome.value)
  return reading.ok ? { ok: true, design: reading.value } : { ok: false, issues: inFile(word, reading.issues) }
}

interface Stored {
  readonly design?: Design | undefined
  readonly works?: Works | undefined
}

/** What the register knows of a design and the works. */
async function lookUp(id: string, data: string, environment: NodeJS.ProcessEnv): Promise<Stored> {
  if (!(await hasRegister(data, environment))) return {} // no folder is filled by looking into it
  const register = await openRegister(data, { environment })
  try {
    const [design, works] = await Promise.all([register.designs.latest(id), register.works.latest(WORKS_ID)])
    return { design: design?.content, works: works?.content }
  } finally {
    await register.close()
  }
}

const noDesign = (word: string): Issue => ({
  path: word.slice(0, 80),
  code: 'not-found',
  message: 'There is no design file of this name, and no design of this number in the data folder.',
})

/** The report says what hangs on a rack of the works in the data folder, where there is one. */
async function asPaper(
  { kind, file, bytes }: SolidFile,
  rack: { readonly design: Design; readonly works: Works | undefined },
): Promise<Paper> {
  const stored = await bytes()
  const content = kind === 'report' && stored !== undefined ? reportWithRack(stored, rack) : stored
  if (content === undefined) throw new Error(`${file.path} was taken from the cache while it was read`)
  const { path, title, mediaType } = file
  return { path, title, mediaType: mediaType as Paper['mediaType'], bytes: content, secret: false } // kept from a paper
}

const listed = ({ path, title, mediaType, bytes }: Paper) => ({ path, title, mediaType, bytes: bytes.byteLength })
