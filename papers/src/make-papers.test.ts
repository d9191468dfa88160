import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { WorksPlan } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { PapersCancelled } from './cancelled.ts'
import { parseCsv } from './lists/csv.ts'
import { makePapers } from './make-papers.ts'
import type { Paper } from './paper.ts'
import { pdfPages } from './pdf-text.testing.ts'
import { sampleAllocation, samplePlan } from './sample-plan.testing.ts'
import { scanned } from './scan.testing.ts'
import { scanCode } from './typeset/scan-code.ts'
import { writePapers } from './write-papers.ts'

const open = await makePapers(samplePlan)
const withCodes = await makePapers(samplePlan, { allocation: sampleAllocation })

const paper = (papers: readonly Paper[], path: string): Paper => {
  const found = papers.find((candidate) => candidate.path === path)
  if (found === undefined) throw new Error(`${path} is missing`)
  return found
}
const [designPlan] = samplePlan.designs
const [sampleLock] = sampleAllocation.locks
if (designPlan === undefined || sampleLock === undefined) throw new Error('the sample has a design and a lock')

const words = (papers: readonly Paper[], path: string) =>
  pdfPages(paper(papers, path).bytes).join('\n').replaceAll('\u00a0', ' ')
const text = (papers: readonly Paper[], path: string) => new TextDecoder().decode(paper(papers, path).bytes)

describe('papers of a plan', () => {
  it('are a margins sheet, a traveller a lot, a card a step, drawings and lists', () => {
    expect(open.map(({ path }) => path).sort()).toMatchObject(
      [
        'margins.pdf',
        'travellers/26-041-A1.pdf',
        ...designPlan.operations.map(
          ({ operation }, i) => `cards/HB50-${String(i + 1).padStart(2, '0')}-${operation}.pdf`,
        ),
        ...['barrel', 'body', 'shackle-blank', 'shackle-bent', 'disc-stack', 'detent-locked', 'detent-released'].map(
          (name) => `drawings/HB50-${name}.svg`,
        ),
        'drawings/bars-round-9.svg',
        'drawings/bars-flat-50-x-25.svg',
        'pick-lists/settings.csv',
        'pick-lists/findings.csv',
        'pick-lists/bars.csv',
        'programs/HB50-drill-body.nc',
        'programs/HB50-notch-shackle.nc',
      ].sort(),
    )
  })
  it('are PDF where they say so, and the same to the byte when made again', async () => {
    const again = await makePapers(samplePlan)
    for (const { mediaType, bytes, path } of open) {
      if (mediaType === 'application/pdf') expect(new TextDecoder().decode(bytes.slice(0, 5))).toBe('%PDF-')
      expect(Buffer.compare(bytes, paper(again, path).bytes), path).toBe(0)
    }
  })
  it('tell how far they are and stop when nobody waits', async () => {
    const shares: number[] = []
    await makePapers(samplePlan, { progress: (share) => shares.push(share) })
    expect(shares).toEqual([...shares].sort((a, b) => a - b))
    expect(shares.at(-1)).toBe(1)
    await expect(makePapers(samplePlan, { signal: { aborted: true } })).rejects.toThrow(PapersCancelled)
  })
})

describe('papers asked for by their paths', () => {
  it('are the same to the byte as among all, each of them alone, and nothing else is made with it', async () => {
    for (const { path, bytes } of withCodes) {
      const made: string[] = []
      const papers = await makePapers(samplePlan, {
        allocation: sampleAllocation,
        only: [path],
        progress: (_, doing) => made.push(doing),
      })
      expect(papers.map((each) => each.path)).toEqual([path])
      expect(Buffer.compare(paper(papers, path).bytes, bytes), path).toBe(0)
      // The work that it needs, and the word at the end.
      expect(made.length, path).toBeLessThanOrEqual(3)
    }
  })
  it('a second paper of one name keeps its number', async () => {
    const [first] = samplePlan.lots
    if (first === undefined) throw new Error('the sample has lots')
    const plan = { ...samplePlan, lots: [first, { ...first, id: first.id.toLowerCase() }] }
    const [, second] = (await makePapers(plan)).filter(({ path }) => path.startsWith('travellers/'))
    expect(second?.path).toMatch(/-2\.pdf$/)
    const [alone] = await makePapers(plan, { only: [second?.path ?? ''] })
    expect(alone).toEqual(second)
  })
  it('a path that no plan has gives no paper', async () => {
    expect(await makePapers(samplePlan, { only: ['nothing.pdf'] })).toEqual([])
  })
})

describe('a traveller', () => {
  it('shows lot, customer, due date, every step and the cautions', () => {
    const sheet = words(open, 'travellers/26-041-A1.pdf')
    for (const part of [
      '26-041-A1',
      'Skerrivoe Harbour Authority',
      '18 January',
      'STOP. Cannot be undone',
      'Quench oil burns',
      'page 1 / 2',
    ])
      expect(sheet).toContain(part)
    for (const { title } of designPlan.operations) expect(sheet).toContain(title)
    expect(sheet).toContain('Take 32 locks at random.')
  })
  it('carries a code that a scanner reads as the lot and nothing else', async () => {
    expect(await scanned(scanCode('26-041-A1'))).toEqual(['26-041-A1'])
    expect(await scanned(scanCode('A.b_c-0123456789-xyz-ABCDEFGHIJK'))).toEqual(['A.b_c-0123456789-xyz-ABCDEFGHIJK'])
  })
})

describe('a job card', () => {
  it('shows settings with units, sizes before plating and finished, gauges, cautions, the working and its source', () => {
    const card = words(open, 'cards/HB50-05-harden.pdf')
    for (const part of [
      'Quench oil burns',
      '9.274 to 9.314',
      '9.250 to 9.310',
      'not plated',
      'not known yet',
      'It is measured on a trial part.',
      'from memory (unverified)',
      'Write down',
      'before plating',
    ])
      expect(card).toContain(part)
  })
})

describe('the margins sheet', () => {
  const sheet = words(open, 'margins.pdf')
  it('says first what limits the order, then every requirement, tightest first', () => {
    const places = [
      'One margin falls short:',
      'Release clearance at −40 °C',
      'Locked engagement',
      'Pull on the shackle',
    ].map((part) => sheet.indexOf(part))
    expect(places).not.toContain(-1)
    expect(places).toEqual([...places].sort((a, b) => a - b))
  })
  it('gives value, limit, verdict, inputs by their names, shares, sources, and why a value is not known', () => {
    for (const part of [
      '0.046 mm',
      '≥ 0.05 mm',
      'Falls short by',
      'Cathode efficiency',
      'Notch depth 60 %',
      'No test has been made.',
      'A sample source for tests',
    ])
      expect(sheet).toContain(part)
  })
})

describe('cuts and gates', () => {
  it('are on no open paper: with and without codes they are the same to the byte', () => {
    const unsecret = withCodes.filter(({ secret }) => !secret)
    expect(unsecret.map(({ path }) => path)).toEqual(open.map(({ path }) => path))
    for (const { path, bytes } of unsecret) expect(Buffer.compare(bytes, paper(open, path).bytes), path).toBe(0)
    expect(open.every(({ secret, path }) => !secret && !path.startsWith('secret/'))).toBe(true)
  })
  it('are on the bench sheets of their lot, with the caution on every page', () => {
    const keys = pdfPages(paper(withCodes, 'secret/keys-26-041-A1.pdf').bytes)
    expect(keys.every((page) => page.includes('Codes are keys'))).toBe(true)
    expect(keys.join('').replace(/\s/g, '')).toContain('QX71-4545454331')
    const many = { ...sampleAllocation, locks: Array.from({ length: 60 }, () => sampleLock) }
    return makePapers(samplePlan, { allocation: many }).then((papers) => {
      const stacks = pdfPages(paper(papers, 'secret/stacks-26-041-A1.pdf').bytes)
      expect(stacks.length).toBeGreaterThan(1)
      for (const page of stacks) expect(page).toContain('Codes are keys')
      expect(stacks[0]).toContain('A-017, A-044')
    })
  })
  it('go to the pick lists: keys, stacks, and totals of discs, spacers and balls', () => {
    const [, key] = parseCsv(text(withCodes, 'secret/keys.csv'))
    expect(key).toEqual(['26-041-A1', 'A-001', 'QX71-4', '', '2', '5', '4', '5', '4', '5', '4', '3', '3', '1'])
    const [, stack] = parseCsv(text(withCodes, 'secret/stacks.csv'))
    expect(stack?.slice(3, 6)).toEqual(['1+5', '1+4', '3+5'])
    const kitting = parseCsv(text(withCodes, 'secret/kitting.csv')).slice(1)
    const count = (part: string) =>
      kitting.filter((row) => row[2] === part).reduce((sum, row) => sum + Number(row[4]), 0)
    expect([count('disc'), count('spacer'), count('ball'), count('body')]).toEqual([9, 8, 2, 1])
  })
})

describe('hostile names', () => {
  const hostile = '#panic("x") $x$ *b* _i_ \\ " @ref <label> `raw` </svg> & =cmd'
  const plan: WorksPlan = {
    ...samplePlan,
    order: { ...samplePlan.order, customer: { name: hostile, reference: hostile } },
    lots: samplePlan.lots.map((lot) => ({ ...lot, id: '../../../etc/x', keying: hostile })),
    findings: samplePlan.findings.map((finding) => ({ ...finding, title: `=1+1 ${hostile}`, remedy: hostile })),
    barCutting: samplePlan.barCutting.map((cutting) => ({ ...cutting, form: `../${hostile}` })),
    works: { ...samplePlan.works, name: hostile },
    designs: samplePlan.designs.map((design) => ({
      ...design,
      design: { ...design.design, title: hostile },
      operations: design.operations.map((step) => ({ ...step, instruction: hostile, workCentre: hostile })),
    })),
  }
  it('stand on the sheets as they are, and lead no file out of its folder', async () => {
    const papers = await makePapers(plan)
    expect(words(papers, 'margins.pdf').replaceAll('\n', '')).toContain(
      '#panic("x") $x$ *b* _i_ \\ " @ref <label> `raw` </svg> &',
    )
    expect(papers.every(({ path }) => /^[A-Za-z0-9-]+(\/[A-Za-z0-9][A-Za-z0-9._-]*)?\.[a-z]+$/.test(path))).toBe(true)
    expect(new Set(papers.map(({ path }) => path)).size).toBe(papers.length)
    const rows = parseCsv(text(papers, 'pick-lists/findings.csv'))
    expect(rows[1]?.[1]).toBe(`'=1+1 ${hostile}`)
  })
})

describe('writePapers', () => {
  it('writes every paper whole, secret ones for their owner alone', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'papers-'))
    try {
      await writePapers(withCodes, folder)
      await writePapers(withCodes, folder) // over what stands there
      for (const { path, bytes, secret } of withCodes) {
        expect(Buffer.compare(await readFile(join(folder, path)), bytes)).toBe(0)
        if (secret) expect((await stat(join(folder, path))).mode & 0o777).toBe(0o600)
      }
      expect((await stat(join(folder, 'secret'))).mode & 0o777).toBe(0o700)
      expect((await readdir(folder, { recursive: true })).filter((name) => name.endsWith('.part'))).toEqual([])
    } finally {
      await rm(folder, { recursive: true })
    }
  })
  it('refuses a path that leaves the folder', async () => {
    const [first] = open
    if (first === undefined) throw new Error('there are papers')
    const folder = await mkdtemp(join(tmpdir(), 'papers-'))
    try {
      await expect(writePapers([{ ...first, path: '../x.pdf' }], folder)).rejects.toThrow('must stay in its folder')
    } finally {
      await rm(folder, { recursive: true })
    }
  })
})
