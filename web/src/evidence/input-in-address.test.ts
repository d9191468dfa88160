import { describe, expect, it } from 'vitest'
import { addressOf, inputFrom } from './input-in-address.ts'

describe('an input in the address', () => {
  it('comes back as it went in, whether or not the browser has decoded it', () => {
    const input = { metal: 'nickel', thicknessUm: 6, note: '50 % & "µm"', typed: '2,x' }
    expect(inputFrom(`#${addressOf(input)}`)).toEqual(input)
    expect(inputFrom(decodeURIComponent(addressOf({ a: 1 })))).toEqual({ a: 1 })
  })
  it.each(['', '#', '#%7B', '#hello', '#%E0%A4%A'])('an address of %s holds none', (hash) =>
    expect(inputFrom(hash)).toBeUndefined(),
  )
})
