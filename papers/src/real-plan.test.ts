import { readdir, readFile } from 'node:fs/promises'
import { answer, calculations, formatMinutes, linePlan, planOrder, type WorksPlan } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { clock } from './drawing/index.ts'
import { blankLengths } from './drawing/parts/padlock-geometry.ts'
import { bores, legOverCoating } from './drawing/sheets/coated-sizes.ts'
import { makePapers } from './make-papers.ts'
import { pdfPages } from './pdf-text.testing.ts'
import { jobCard } from './sheets/job-card.ts'
import { formula } from './typeset/formula.ts'
import { typesetter } from './typeset/typesetter.ts'

const demo = new URL('../../demo/', import.meta.url)
const json = async (path: string): Promise<unknown> => JSON.parse(await readFile(new URL(path, demo), 'utf8'))
const all = async (folder: string) =>
  Promise.all((await readdir(new URL(`${folder}/`, demo))).sort().map((file) => json(`${folder}/${file}`)))

const [designs, orders, works] = [await all('designs'), await all('orders'), await json('works.json')]

async function planned(order: unknown): Promise<WorksPlan> {
  const result = await planOrder({ order, designs, works })
  if (!result.ok) throw new Error('the demo order must plan')
  return result.plan
}
const plans = await Promise.all(orders.map(planned))

describe('papers of the demo orders', () => {
  it.each(plans.map((plan) => [plan.order.id, plan] as const))(
    'order %s: every sheet carries its title block, every formula is set',
    async (_, plan) => {
      const papers = await makePapers(plan)
      for (const { path, bytes, mediaType } of papers.filter(({ path: p }) => p.endsWith('.pdf'))) {
        expect(mediaType).toBe('application/pdf')
        const pages = pdfPages(bytes)
        expect(pages.length, path).toBeGreaterThan(0)
        pages.forEach((page, i) => {
          expect(page, path).toContain(`page ${i + 1} / ${pages.length}`)
          expect(page, path).toContain(plan.works.name)
        })
      }
      const setter = await typesetter()
      const evidence = [
        ...plan.findings,
        ...plan.designs.flatMap(({ operations }) => operations.flatMap(({ settings }) => settings)),
      ].flatMap((row) => (row.evidence === undefined ? [] : [row.evidence]))
      const formulas = evidence
        .flatMap(({ working }) => (typeof working === 'string' ? [] : working))
        .flatMap((step) => [formula(step.formula), formula(step.filled)])
      for (const made of formulas) expect(made.math, made.tex).not.toBeNull()
      expect(setter.sets('#for f in data { formula(f) }', formulas)).toBe(true)
    },
  )
  it.each(plans.map((plan) => [plan.order.id, plan] as const))(
    'order %s: on every traveller the sample stands on the page of the cautions, never alone',
    async (_, plan) => {
      const only = plan.lots.map(({ id }) => `travellers/${id}.pdf`)
      const travellers = await makePapers(plan, { only })
      expect(travellers.length).toBe(plan.lots.length)
      for (const { bytes, path } of travellers)
        for (const page of pdfPages(bytes).filter((text) => text.includes('Release.')))
          expect(page, path).toContain('Caution')
    },
  )
  it('the card of nickel prints the round of the line: every move with its moment, and when the first rack is through', async () => {
    const plan = plans.find(({ order }) => order.id === '26-041')
    const design = plan?.designs[0]
    const line = plan && design && linePlan(design.design, plan.works)
    if (plan === undefined || design === undefined || !line?.ok) throw new Error('the demo line must be timed')
    const setter = await typesetter()
    const card = (operation: string) => {
      const step = design.operations.find((each) => each.operation === operation)
      if (step === undefined) throw new Error(operation)
      return pdfPages(jobCard(plan, design, step, setter).bytes)
        .join('')
        .replace(/\s+/g, ' ')
    }
    const nickel = card('nickel')
    for (const { tank, atS } of line.answer.removals)
      expect(nickel).toContain(`${clock(atS)} ${tank} ${line.stations[tank]?.name}`)
    expect(nickel).toContain(
      `the first is through after ${formatMinutes(line.answer.startUp.firstOutS / 60)}`.replace(/\s+/g, ' '),
    )
    for (const operation of ['clean', 'chromium'])
      expect(card(operation)).toContain('Passed in the round of “Nickel” and counted there')
    expect(card('chromium')).toContain('Trivalent chromium')
    expect(card('relief-bake')).not.toContain('The line')
  })
  it('every finding of the plan stands on the margins sheet', async () => {
    for (const plan of plans) {
      const [sheet] = await makePapers(plan, { only: ['margins.pdf'] })
      const words = pdfPages(sheet?.bytes ?? new Uint8Array())
        .join('')
        .replace(/\s+/g, '')
      for (const { title, id } of plan.findings) expect(words, id).toContain(title.replace(/\s+/g, ''))
    }
  })
})

describe('what the drawings compute', () => {
  it('a bar is drawn full: trim, pieces with their cuts, offcut and grip add up to its length', () => {
    for (const { layout, pieces, kerfMm, endTrimMm, gripMm } of plans.flatMap(({ barCutting }) => barCutting))
      for (const { stockLengthMm, offcutMm, pieces: cut } of layout?.layouts ?? []) {
        const used = pieces.reduce((sum, { name, lengthMm }) => sum + (cut[name] ?? 0) * (lengthMm + kerfMm), 0)
        expect(endTrimMm + used + offcutMm + gripMm).toBeCloseTo(stockLengthMm, 6)
      }
  })
  it('the blank agrees with shackle.blank of the engine', () => {
    const blank = calculations.find(({ id }) => id === 'shackle.blank')
    if (blank?.kind !== 'short') throw new Error('shackle.blank is in the list')
    for (const { design } of plans.flatMap((plan) => plan.designs)) {
      const { barDiameter, insideWidth, heelLegMm, toeLegMm, neutralAxisFactor } = design.shackle
      const answered = answer(blank, {
        barDiameterMm: barDiameter.nominalMm,
        insideWidthMm: insideWidth.nominalMm,
        heelLegMm,
        toeLegMm,
        neutralAxisFactor,
      })
      expect(answered.ok && answered.output['blankLengthMm']).toBeCloseTo(blankLengths(design).total, 9)
    }
  })
  it('bores before plating and the plated leg agree with the sizes of the plan', () => {
    let compared = 0
    for (const { design, operations } of plans.flatMap((plan) => plan.designs)) {
      const sizes = operations.flatMap((step) => step.sizes)
      for (const { name, finished, before } of bores(design)) {
        const size = sizes.find(
          ({ feature }) => feature.startsWith(name.replace(/s$/, '')) && feature.includes('diameter'),
        )
        if (size === undefined) continue
        compared++
        expect(size.finishedMm.minMm).toBeCloseTo(finished.minMm, 9)
        expect(size.finishedMm.maxMm).toBeCloseTo(finished.maxMm, 9)
        if (size.beforePlatingMm === null || before === null) expect(size.beforePlatingMm).toEqual(before)
        else {
          expect(size.beforePlatingMm.minMm).toBeCloseTo(before.minMm, 9)
          expect(size.beforePlatingMm.maxMm).toBeCloseTo(before.maxMm, 9)
        }
      }
      const leg = operations
        .find(({ operation }) => operation === 'nickel')
        ?.sizes.find(({ feature }) => /leg/i.test(feature))
      if (leg !== undefined) {
        compared++
        expect(leg.finishedMm.maxMm).toBeCloseTo(legOverCoating(design).maxMm, 9)
        expect(leg.finishedMm.minMm).toBeCloseTo(legOverCoating(design).minMm, 9)
      }
    }
    expect(compared).toBeGreaterThanOrEqual(plans.length)
  })
})
