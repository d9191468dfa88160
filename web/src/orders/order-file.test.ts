import { describe, expect, it } from 'vitest'
import { MOST_BYTES, readOrderText } from './order-file.ts'

describe('an order as a file', () => {
  it('is read as JSON', () => expect(readOrderText('{"id":"26-041"}')).toEqual({ ok: true, content: { id: '26-041' } }))
  it.each([
    ['nothing', '  \n', 'empty'],
    ['a text that stops being JSON', '{\n  "id": 26-041\n}', 'line 2'],
    ['a list', '[1, 2]', 'no order'],
    ['a single word', '"order"', 'no order'],
    ['five megabytes of garbage', 'x'.repeat(MOST_BYTES + 1), 'too large'],
  ])('%s is refused with the reason', (_, text, words) => {
    const result = readOrderText(text)
    expect(result.ok ? '' : result.issues[0]?.message).toContain(words)
  })
})
