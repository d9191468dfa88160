import { join } from 'node:path'
import { type Issue, type PlanResult, sentenceText, type Waiting, type WorksPlan } from '@haspwright/engine'
import type { Paper } from '@haspwright/papers'
import { dataFolder, type Giving, openRegister, type Register } from '@haspwright/register'
import { codesFor, directPlanner } from '@haspwright/server'
import type { Arguments } from '../arguments.ts'
import { type Command, type CommandEnd, jsonText, missingWord, tooManyWords } from '../command.ts'
import { inFile } from '../in-file.ts'
import { newKeyNotice } from '../new-key-notice.ts'
import { checkOut, PAPERS_LIST, putPapers, SECRET_FOLDER } from '../paper-folder.ts'
import { findPlanFiles, type PlanFiles } from '../plan-files.ts'
import { progressOn } from '../progress.ts'
import type { Terminal } from '../terminal.ts'
import { whoIsHere } from '../who-is-here.ts'

/** An order to a works plan, with every sheet to print. */
export const plan: Command = {
  usage: 'ORDER.json --out DIR',
  options: [
    { name: 'out', value: 'DIR', help: 'Folder for the papers; made where there is none' },
    {
      name: 'designs',
      value: 'DIR',
      help: 'Folder of design files; else designs/ beside or above the order, else the data folder',
    },
    {
      name: 'works',
      value: 'FILE',
      help: 'Works file; else works.json beside or above the order, else the data folder',
    },
    {
      name: 'data',
      value: 'DIR',
      help: 'Data folder that keeps the codes; else HASPWRIGHT_DATA, else ./haspwright-data',
    },
    {
      name: 'new-codes',
      value: 'REASON',
      help: 'Give new codes to an order that was changed after its code sheets were made; the old ones are withdrawn',
    },
    { name: 'quiet', help: 'No progress' },
    { name: 'json', help: 'Print one JSON object and nothing else' },
  ],
  notes: [
    'Sheets with cuts of keys go to DIR/secret, readable by you alone. Treat them as keys.',
    'Nothing is written to DIR unless the whole order can be planned.',
  ],
  isSecret: () => true,

  async run(given, terminal) {
    const [order] = given.words
    const out = given.text('out')
    if (order === undefined || out === undefined)
      return [
        ...(order === undefined ? [missingWord('ORDER.json')] : []),
        ...(out === undefined ? [missingWord('--out')] : []),
      ]
    const refusals = [...tooManyWords(given.words, 1), ...(await checkOut(out))]
    if (refusals.length > 0) return refusals

    const opened = openedOnce(given, terminal)
    try {
      return await planOrder(given, { order, out, terminal, register: opened.register })
    } finally {
      await opened.close()
    }
  },
}

/** The register, opened when it is first asked for: the database starts while other things are done. */
function openedOnce(given: Arguments, { environment, err }: Terminal) {
  let opening: Promise<Register> | undefined
  return {
    register() {
      const onNewKey = (file: string) => given.has('quiet') || err(newKeyNotice(file))
      opening ??= openRegister(dataFolder(given.text('data'), environment), { environment, onNewKey })
      opening.catch(() => {}) // told to whoever waits for it
      return opening
    },
    async close() {
      const register = await opening?.catch(() => undefined)
      await register?.close()
    },
  }
}

interface Asked {
  readonly order: string
  readonly out: string
  readonly terminal: Terminal
  readonly register: () => Promise<Register>
}

async function planOrder(given: Arguments, { order, out, terminal, register }: Asked): Promise<CommandEnd> {
  const named = { order, designs: given.text('designs'), works: given.text('works') }
  const found = await findPlanFiles(named, register)
  if (!found.ok) return found.issues
  const progress = progressOn(terminal, given.has('quiet'))
  const reason = given.text('new-codes')
  const actor = whoIsHere()
  const by = { actor, newCodes: reason === undefined ? undefined : { reason, who: actor } }
  const made = await planAndPrint(found.files, { opening: register(), by }, progress.part)
  progress.end()
  if (!made.ok) return made.issues
  await putPapers(made.papers, out, terminal)
  await noteAccess(await register(), made, out)
  if (given.has('json')) await terminal.out(jsonText(summaryOf(made, out), terminal))
  else {
    for (const notice of made.codeNotices) terminal.err(`${notice}\n`)
    if (made.papers.some(({ secret }) => secret))
      terminal.err(`Sheets with cuts of keys are in ${join(out, SECRET_FOLDER)}: treat them as keys.\n`)
    await terminal.out(`${sentenceText(made.plan.sentence)}\n`)
  }
  return 'done'
}

type Made =
  | {
      readonly ok: true
      readonly plan: WorksPlan
      readonly papers: readonly Paper[]
      readonly notices: readonly string[]
      /** What whoever holds earlier sheets must know: shown even with --quiet. */
      readonly codeNotices: readonly string[]
    }
  | { readonly ok: false; readonly issues: readonly Issue[] }

async function planAndPrint(
  files: PlanFiles,
  { opening, by }: { opening: Promise<Register>; by: Giving },
  part: (from: number, to: number) => Waiting,
): Promise<Made> {
  const { order, designs, works } = files
  const planned: PlanResult = await directPlanner.plan(
    { order: order.content, designs: designs.map(({ content }) => content), works: works.content },
    part(0, 0.5),
  )
  if (!planned.ok) return { ok: false, issues: planned.issues.map((issue) => inItsFile(issue, files)) }
  const used = planned.plan.designs.map(({ design }) => design)
  const codes = await codesFor(
    { register: await opening, planner: directPlanner },
    { order: planned.plan.order, designs: used, by },
    part(0.5, 0.6),
  )
  if (!codes.ok) return { ok: false, issues: codes.issues.map((issue) => codeIssue(issue, order.name)) }
  const papers = await directPlanner.papers({ plan: planned.plan, allocation: codes.value }, part(0.6, 1))
  const codeNotices = codes.value.notices
  return { ok: true, plan: planned.plan, papers, notices: [...planned.plan.notices, ...codeNotices], codeNotices }
}

/** `designs[1].body.widthMm` → `demo/designs/hb50.json: body.widthMm`. */
function inItsFile(issue: Issue, { order, designs, works }: PlanFiles): Issue {
  const [, place = '', index, rest = ''] = /^(order|works|designs)(?:\[(\d+)\])?\.?(.*)$/s.exec(issue.path) ?? []
  const file = { order, works, designs: designs[Number(index)] }[place]
  return file === undefined ? issue : (inFile(file.name, [{ ...issue, path: rest }])[0] ?? issue)
}

/** A question is answered with an option; anything else lies in the order. */
function codeIssue(issue: Issue, order: string): Issue {
  if (issue.code !== 'needs-confirmation') return inFile(order, [issue])[0] ?? issue
  return { ...issue, path: '--new-codes', allowed: '--new-codes with the reason' }
}

/** Whoever prints the sheets has seen the codes. */
async function noteAccess(
  register: Register,
  { plan, papers }: Extract<Made, { ok: true }>,
  out: string,
): Promise<void> {
  for (const paper of papers.filter(({ secret }) => secret))
    await register.access.record({
      who: whoIsHere(),
      order: plan.order.id,
      paper: paper.path,
      reason: `printed with the works plan into ${out}`,
    })
}

function summaryOf({ plan, papers, notices }: Extract<Made, { ok: true }>, out: string) {
  const { order, sentence, findings, lots, barCutting } = plan
  const counted = (verdict: string) => findings.filter((finding) => finding.verdict === verdict).length
  return {
    order: order.id,
    out,
    sentence: { ...sentence, text: sentenceText(sentence) },
    margins: { holds: counted('holds'), fallsShort: counted('falls-short'), notKnown: counted('not-known') },
    tightest: findings.slice(0, 10).map(({ id, title, verdict, limit, unit, predicted, margin, marginShare }) => ({
      id,
      title,
      verdict,
      limit,
      unit,
      ...(predicted === undefined ? {} : { predicted: predicted.value }),
      ...(margin === undefined ? {} : { margin }),
      ...(marginShare === undefined ? {} : { marginShare }),
    })),
    lots: lots.map(({ id, design, keying, locks, keys }) => ({ id, design, keying, locks, keys })),
    bars: barCutting.map(({ form, layout }) => ({ form, bars: layout?.bars ?? null })),
    papersList: PAPERS_LIST,
    papers: papers.map(({ path, title, mediaType, secret }) => ({ path, title, mediaType, secret })),
    notices,
  }
}
