import { calculations, SOURCE_STATUSES } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import { sourceLedger } from './source-ledger.ts'

describe('the ledger of sources', () => {
  const ledger = sourceLedger(calculations)

  it('names every source of every calculation once, with what rests on it', () => {
    const ids = ledger.entries.map(({ source }) => source.id)
    expect(new Set(ids).size).toBe(ids.length)
    for (const calculation of calculations)
      for (const source of calculation.sources)
        expect(ledger.entries.find((entry) => entry.source.id === source.id)?.computes).toContain(calculation)
  })

  it('the three shares add up to all sources', () => {
    expect(ledger.published + ledger.practice + ledger.memory).toBe(ledger.entries.length)
  })

  it('stands in the order of trust', () => {
    const ranks = ledger.entries.map(({ source }) => SOURCE_STATUSES.indexOf(source.status))
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b))
  })
})
