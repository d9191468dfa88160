import type { SolidReport } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { sizeWords } from './file-words.ts'
import { sectionWords } from './sections.ts'
import { factsInWords, interferenceByState, lockMass, partFacts } from './solid-facts.ts'

const part = (key: string, massG?: number) => ({
  key,
  title: key,
  volumeMm3: 100,
  areaMm2: 1,
  outsideAreaMm2: 1,
  boxMm: [1, 1, 1] as const,
  ...(massG === undefined ? {} : { massG, material: 'C45E' }),
})
const report: SolidReport = {
  design: { id: 'X', revision: 'A' },
  parts: [part('body-sawn', 500), part('body', 400), part('ball', 2), part('disc')],
  plated: { bodyOutsideMm2: 1, boresMm2: 1, shackleMm2: 1 },
  walls: [{ between: ['barrel bore', 'toe bore'], thicknessMm: 2.25 }],
  thinnestWall: null,
  interference: {
    toleranceMm3: 0.001,
    pairsChecked: 6,
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
