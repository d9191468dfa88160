import { describe, expect, it } from 'vitest'
import { openRow, sealRow } from './sealed-rows.ts'

const key = new Uint8Array(32).fill(9)
const place = { space: 'abc', list: 'one', line: 7 }
const row = { cuts: [1, 2, 3], lock: 'Boathouse' }

describe('sealed rows', () => {
  it('open again under their key and at their place, and nowhere else', () => {
    const sealed = sealRow(key, place, row)
    expect(openRow(key, place, sealed)).toEqual(row)
    expect(() => openRow(new Uint8Array(32), place, sealed)).toThrow()
    for (const other of [{ line: 8 }, { list: 'two' }, { space: 'abd' }])
      expect(() => openRow(key, { ...place, ...other }, sealed)).toThrow()
  })

  it('do not open when a single bit was changed', () => {
    const bytes = Buffer.from(sealRow(key, place, row), 'base64')
    for (let at = 0; at < bytes.length; at++) {
      const changed = Buffer.from(bytes)
      changed[at] = (changed[at] ?? 0) ^ 1
      expect(() => openRow(key, place, changed.toString('base64'))).toThrow()
    }
  })

  it('are another text each time, so that equal codes do not show', () => {
    expect(sealRow(key, place, row)).not.toBe(sealRow(key, place, row))
  })
})
