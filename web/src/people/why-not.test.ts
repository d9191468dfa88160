import { PERMISSIONS, type Permission } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { leaveFor } from './why-not.ts'

const nobody = { may: [], mayWithSecondFactor: [] }

describe('leave to do something', () => {
  it('is given where the server said so', () => {
    expect(leaveFor({ may: ['orders.write'], mayWithSecondFactor: [] }, 'orders.write')).toEqual({ kind: 'given' })
  })

  it('wants the second factor where only that is missing', () => {
    expect(leaveFor({ may: [], mayWithSecondFactor: ['codes.log'] }, 'codes.log')).toEqual({
      kind: 'second-factor-missing',
      words: 'To read who saw which code and why, sign in with your second factor.',
    })
  })

  it('is not given to others, who are told who may', () => {
    expect(leaveFor(nobody, 'orders.write')).toEqual({
      kind: 'not-given',
      words: 'The production engineer or planner may hand in orders and plan them again.',
    })
    expect(leaveFor(nobody, 'designs.write')).toMatchObject({
      words: 'The production engineer may store new versions of designs.',
    })
    expect(leaveFor(undefined, 'orders.write').kind).toBe('not-given')
  })

  it('names somebody for every permission there is', () => {
    for (const permission of Object.keys(PERMISSIONS) as Permission[]) // keys of that table
      expect(leaveFor(nobody, permission), permission).toMatchObject({ words: expect.stringMatching(/^The \w/) })
  })
})
