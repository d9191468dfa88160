import type { CodeAllocation, WorksPlan } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { keyChartsOf } from './key-chart.ts'
import { parseCsv } from './lists/csv.ts'
import { makePapers } from './make-papers.ts'
import { pdfPages } from './pdf-text.testing.ts'
import { samplePlan } from './sample-plan.testing.ts'

const [sampleLot] = samplePlan.lots
const [design] = samplePlan.designs
if (sampleLot === undefined || design === undefined) throw new Error('the sample has a lot and a design')
const plan: WorksPlan = { ...samplePlan, lots: [...samplePlan.lots, { ...sampleLot, id: '26-041-C1', line: 'C' }] }

/** A general master, so many masters of two locks each, and a key for every lock. */
function allocation(groups: number, value: number): CodeAllocation {
  const cuts = new Array<number>(9).fill(value)
  const key = (name: string, master: boolean) => ({
    name,
    lot: '26-041-C1',
    blindCode: `B-${name}`,
    cuts,
    copies: 2,
    master,
  })
  const locks = Array.from({ length: 2 * groups }, (_, i) => ({
    name: `C-${i + 1}`,
    lot: '26-041-C1',
    design: design?.design.id ?? '',
    blindCode: `L-${i + 1}`,
    gates: cuts.map((cut) => [cut, cut + 1]),
    openedBy: [`C-${i + 1}`, 'C General', `C Group ${Math.floor(i / 2) + 1}`],
    tryKeys: [],
  }))
  const masters = ['C General', ...Array.from({ length: groups }, (_, i) => `C Group ${i + 1}`)]
  const keys = [...locks.map(({ name }) => key(name, false)), ...masters.map((name) => key(name, true))]
  return { order: plan.order.id, keys, locks, given: [], notices: [] }
}

const papersOf = async (groups: number, value = 1) => {
  const papers = await makePapers(plan, { allocation: allocation(groups, value) })
  return (path: string) => {
    const found = papers.find((paper) => paper.path === path)
    if (found === undefined) throw new Error(`${path} is missing`)
    return found
  }
}
const OPEN = ['charts/C-who-opens-what.pdf', 'charts/C-who-opens-what.csv']
const SECRET = ['secret/chart-C-cutting-list.pdf', 'secret/chart-C-keys.csv', 'secret/chart-C-locks.csv']

describe('papers of a chart', () => {
  it('the customer’s hold no cut: other cuts and gates give the same bytes; those of the works are secret and differ', async () => {
    const [one, other] = [await papersOf(3, 1), await papersOf(3, 3)]
    for (const path of OPEN) {
      expect(one(path).secret).toBe(false)
      expect(Buffer.compare(one(path).bytes, other(path).bytes), path).toBe(0)
    }
    for (const path of SECRET) {
      expect(one(path).secret).toBe(true)
      expect(Buffer.compare(one(path).bytes, other(path).bytes), path).not.toBe(0)
    }
  })

  it('say of every lock its own key, the group it is under and who opens it', async () => {
    const paper = await papersOf(3)
    const [head, ...rows] = parseCsv(new TextDecoder().decode(paper('charts/C-who-opens-what.csv').bytes))
    expect(head).toEqual([
      'lock',
      'blind code',
      'own keys',
      'under',
      'C General',
      'C Group 1',
      'C Group 2',
      'C Group 3',
    ])
    expect(rows[2]).toEqual(['C-3', 'L-3', 'C-3', 'C Group 2', 'opens', '', 'opens', ''])
    const [page = ''] = pdfPages(paper('charts/C-who-opens-what.pdf').bytes)
    for (const words of ['C-6', 'L-6', 'Group 3', 'General', 'order 26-041', 'page 1 / 1'])
      expect(page).toContain(words)
  })

  it('a chart with many masters goes on over pages, every page under its heads, every lock once in each stretch', async () => {
    const paper = await papersOf(60)
    const pages = pdfPages(paper('charts/C-who-opens-what.pdf').bytes)
    const matrix = pages.filter((page) => page.includes('Own keys'))
    expect(matrix.length).toBeGreaterThan(4)
    expect(matrix.filter((page) => /keys 1 to 31 of 61/.test(page))).toHaveLength(1)
    expect(matrix.filter((page) => /keys 32 to 61 of 61/.test(page))).toHaveLength(1)
    for (let lock = 1; lock <= 120; lock++)
      expect(
        matrix.filter((page) => new RegExp(`L-${lock}(?!\\d)`).test(page)),
        `L-${lock}`,
      ).toHaveLength(2)
  })

  it('the cutting list has cuts and gates disc by disc, and the caution on every page', async () => {
    const paper = await papersOf(30)
    const pages = pdfPages(paper('secret/chart-C-cutting-list.pdf').bytes)
    expect(pages.length).toBeGreaterThan(2)
    for (const page of pages) expect(page).toContain('Codes are keys')
    const [head, first] = parseCsv(new TextDecoder().decode(paper('secret/chart-C-locks.csv').bytes))
    expect(head?.slice(3)).toEqual(Array.from({ length: 9 }, (_, i) => `disc ${i + 1}`))
    expect(first?.slice(3)).toEqual(new Array(9).fill('1+2'))
  })

  it('levels count from the widest key down, and a line without masters has no chart', () => {
    const [chart] = keyChartsOf(plan, allocation(3, 1))
    expect(chart?.sharedKeys.map(({ name, level, opens }) => [name, level, opens])).toEqual([
      ['C General', 1, 6],
      ['C Group 1', 2, 2],
      ['C Group 2', 2, 2],
      ['C Group 3', 2, 2],
    ])
    expect(chart?.ownKeys.every(({ level }) => level === 3)).toBe(true)
    expect(keyChartsOf(samplePlan, allocation(3, 1))).toEqual([])
  })
})
