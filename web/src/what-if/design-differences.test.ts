import { Design, read } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json'
import { designDifferences, nextRevision } from './design-differences.ts'
import { withFigure } from './figure-places.ts'

describe('two versions of a design', () => {
  it('are told apart field by field, in the words of the schema', () => {
    const reading = read(Design, harbour)
    if (!reading.ok) throw new Error('The demo design is not valid.')
    const was = reading.value
    expect(designDifferences(was, was)).toEqual([])
    const { nominalMm } = was.barrel.recessDepth
    const differences = designDifferences(was, withFigure(was, ['barrel', 'recessDepth', 'nominalMm'], nominalMm + 1))
    expect(differences).toHaveLength(1)
    expect(differences[0]?.title).toBe('Recess depth for the balls, nominal')
  })
  it.each([
    ['C', 'D'],
    ['Z', 'AA'],
    ['AZ', 'BA'],
    ['9', '10'],
    ['C2', 'C2.1'],
  ])('revision %s is followed by %s', (revision, next) => expect(nextRevision(revision)).toBe(next))
})
