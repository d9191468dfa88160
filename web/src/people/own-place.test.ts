import { expect, it } from 'vitest'
import { ownPlace } from './own-place.ts'

it('after signing in leads to a place of these pages and to no other', () => {
  expect(ownPlace('/orders/26-041?station=close')).toBe('/orders/26-041?station=close')
  for (const other of [
    'https://elsewhere.example',
    '//elsewhere.example',
    '/\\elsewhere.example',
    'orders',
    7,
    undefined,
  ])
    expect(ownPlace(other)).toBeUndefined()
})
