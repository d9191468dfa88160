import type { DesignSolidReport } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { sizeWords } from './file-words.ts'
import { sectionWords } from './sections.ts'
import { contactRows, factsInWords, interferenceByState, listedWalls, lockMass, partFacts } from './solid-facts.ts'

const part = (key: string, massG?: number) => ({
  key,
  title: key,
  volumeMm3: 100,
  areaMm2: 1,
  outsideAreaMm2: 1,
  boxMm: [1, 1, 1] as const,
  ...(massG === undefined ? {} : { massG, material: 'C45E' }),
})
const report: DesignSolidReport = {
  design: { id: 'X', revision: 'A' },
  parts: [part('body-sawn', 500), part('body', 400), part('ball', 2), part('disc')],
  plated: { faces: [], currentDm2: 0, notPlated: [] },
  rack: null,
  walls: [{ between: ['barrel bore', 'toe bore'], thicknessMm: 2.25, holds: true }],
  wallLimitMm: 2,
  interference: {
    toleranceMm3: 0.001,
    nearMm: 1,
    pairsChecked: 6,
    pairs: [],
    interferences: [{ state: 'open', parts: ['Ball', 'Body'], commonMm3: 0.25 }],
  },
  engagement: { modelMm: 2, chainMm: 2 },
  notice: '',
}
const placement = { placements: [] }
const placed = ['body', 'ball', 'ball', 'disc'].map((key) => ({ name: key, part: key, ...placement }))

describe('what the solids say', () => {
  it('counts the parts of the lock and not the stages before; the mass leaves out what no material is known of', () => {
    const facts = partFacts(report, { placed })
    expect(facts.map(({ title, count }) => [title, count])).toEqual([
      ['body', 1],
      ['ball', 2],
      ['disc', 1],
    ])
    expect(lockMass(facts)).toEqual({ massG: 404, without: 1 })
  })

  it('names parts that share room at their state, and clears the others', () => {
    const states = interferenceByState(report, ['locked', 'open'])
    expect(states).toEqual([
      { state: 'locked', clear: true, words: 'no two parts share room' },
      { state: 'open', clear: false, words: 'Ball and Body share 0.25 mm³' },
    ])
  })

  it('lists the four thinnest walls, and every other that falls short', () => {
    const wall = (thicknessMm: number) => ({
      between: ['a', `b${thicknessMm}`] as const,
      thicknessMm,
      holds: thicknessMm >= 2,
    })
    const listed = (...all: number[]) =>
      listedWalls({ ...report, walls: all.map(wall) }).map(({ thicknessMm }) => thicknessMm)
    expect(listed(1, 1.2, 1.4, 1.6, 1.8, 2, 3)).toEqual([1, 1.2, 1.4, 1.6, 1.8])
    expect(listed(2, 3, 4, 5, 6)).toEqual([2, 3, 4, 5])
  })

  it('tells pairs of equal parts once, with their number, and those that share room first', () => {
    const pair = (
      a: string,
      b: string,
      contact: { kind: 'touches' } | { kind: 'clears'; gapMm: number } | { kind: 'shares room'; commonMm3: number },
    ) => ({
      parts: [a, b] as const,
      contacts: [{ state: 'locked' as const, ...contact }],
    })
    const pairs = [
      pair('Body', 'Shackle', { kind: 'clears', gapMm: 0.0776 }),
      pair('Barrel', 'Disc 2', { kind: 'clears', gapMm: 0.05 }),
      pair('Barrel', 'Disc 3', { kind: 'clears', gapMm: 0.05 }),
      pair('Barrel', 'Disc 1', { kind: 'touches' }),
      pair('Ball', 'Body', { kind: 'shares room', commonMm3: 0.25 }),
    ]
    const rows = contactRows({ ...report, interference: { ...report.interference, pairs } })
    expect(rows.map(({ parts, cells: [cell] }) => [parts, cell?.words, cell?.short])).toEqual([
      ['Ball – Body', 'share 0.25 mm³', true],
      ['Body – Shackle', '0.078 mm', false],
      ['Barrel – Disc, 2 pairs', '0.050 mm', false],
      ['Barrel – Disc 1', 'touch', false],
    ])
  })

  it('says it in a sentence', () => {
    expect(factsInWords(report, { placed, states: ['locked', 'open'] })).toBe(
      'Mass 404 g without 1 part of unknown material; thinnest wall 2.25 mm between barrel bore and toe bore; open: Ball and Body share 0.25 mm³.',
    )
  })
})

describe('words of the 3D view', () => {
  it('say where the cut is, from the middle and from the top of the body', () => {
    expect(sectionWords('none', 3)).toBe('not cut')
    expect(sectionWords('front', 0)).toBe('front taken away up to the middle')
    expect(sectionWords('front', -2.5)).toBe('front taken away up to 2.5 mm before the middle')
    expect(sectionWords('above', -19)).toBe('top taken away down to 19.0 mm below the top face of the body')
  })

  it('give sizes of files in thousands, both sides of each step', () => {
    expect([999, 1000, 999_499, 999_500].map(sizeWords)).toEqual(['999 bytes', '1 kB', '999 kB', '1 MB'])
  })
})
