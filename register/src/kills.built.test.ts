import { expect, it } from 'vitest'
import { killRegister, troublesOf } from '../../scripts/kill-register.mjs'

// All 200: node scripts/kill-register.mjs 200
it('after kills of the program and of the database no code and no measurement is there twice, nothing acknowledged is lost, the chain is whole', async () => {
  const outcome = await killRegister({ kills: 4 })
  expect(outcome.acknowledged.length).toBeGreaterThan(0)
  expect(outcome.kills.database).toBeGreaterThan(0)
  expect(outcome.measurements.length).toBeGreaterThan(0)
  expect(troublesOf(outcome)).toEqual([])
}, 300_000)
