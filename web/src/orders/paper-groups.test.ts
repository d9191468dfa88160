import type { PaperListing } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { jobCardOf, paperGroups, programOf } from './paper-groups.ts'

const paper = (path: string): PaperListing => ({
  path,
  title: path,
  mediaType: 'application/pdf',
  bytes: 1,
  secret: false,
})

describe('the papers of an order', () => {
  const papers = ['secret/keys.csv', 'cards/HB50-02-drill-body.pdf', 'margins.pdf', 'photos/one.png'].map(paper)

  it('are listed by kind, in the order they are reached for, and none is lost', () => {
    const groups = paperGroups(papers)
    expect(groups.map(({ title }) => title.split(':')[0])).toEqual(['Whole order', 'Job cards', 'Codes', 'photos'])
    expect(groups.flatMap((group) => group.papers)).toHaveLength(papers.length)
  })

  it('a step finds its job card, and only its own', () => {
    expect(jobCardOf(papers, 'HB50', 'drill-body')?.path).toBe('cards/HB50-02-drill-body.pdf')
    expect(jobCardOf(papers, 'RY40', 'drill-body')).toBeUndefined()
    expect(jobCardOf(papers, 'HB50', 'close')).toBeUndefined()
  })

  it('a step finds its program, or why it has none', () => {
    const programs = ['programs/HB50-drill-body.nc', 'programs/HB50-notch-shackle-refused.txt'].map(paper)
    expect(programOf(programs, 'HB50', 'drill-body')?.path).toBe('programs/HB50-drill-body.nc')
    expect(programOf(programs, 'HB50', 'notch-shackle')?.path).toBe('programs/HB50-notch-shackle-refused.txt')
    expect(programOf(programs, 'HB50', 'bend-shackle')).toBeUndefined()
  })
})
