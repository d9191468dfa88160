import { describe, expect, it } from 'vitest'
import { curlLine, jsonText } from './curl-line.ts'
import type { ApiRoute } from './routes-by-subject.ts'

const base = 'https://works.example'
const route: ApiRoute = {
  name: 'get-orders-id',
  method: 'GET',
  path: '/api/orders/{id}',
  title: 'An order',
  subject: 'Orders',
  access: { kind: 'people-and-tokens', words: [], scopes: ['orders:read'] },
  parameters: [{ name: 'id', in: 'path', required: true, schema: {}, example: '26-041' }],
  bodies: [],
  answers: [],
}

describe('the line for a shell', () => {
  it('asks with the example of the document and the placeholder of a token', () => {
    expect(curlLine(route, { base })).toBe(
      "curl 'https://works.example/api/orders/26-041' \\\n  -H 'Authorization: Bearer hasp_YOUR_TOKEN'",
    )
  })

  it('names a part of the path that has no example, and asks what must be asked', () => {
    const kind = { name: 'kind', in: 'query', required: true, schema: { enum: ['step', '3mf'] } } as const
    const files = { ...route, path: '/api/designs/{design}/files', parameters: [kind] }
    expect(curlLine(files, { base })).toContain("'https://works.example/api/designs/DESIGN/files?kind=step'")
  })

  it('sends a body, and a quote in it does not end the word', () => {
    const line = curlLine({ ...route, method: 'POST' }, { base, body: { mediaType: 'text/csv', example: "o'clock\n" } })
    expect(line).toContain('curl -X POST ')
    expect(line).toContain(`-H 'Content-Type: text/csv'`)
    expect(line).toContain(`--data-binary 'o'\\''clock'`)
  })

  it('has no token where anybody may ask, and is none where no program gets through', () => {
    const open = { ...route, access: { ...route.access, kind: 'anybody' as const } }
    expect(curlLine(open, { base })).not.toContain('Authorization')
    expect(curlLine({ ...route, access: { ...route.access, kind: 'people' } }, { base })).toBeUndefined()
  })
})

it('JSON that a person reads has short groups on one line and is the same JSON', () => {
  const value = { id: 'A', none: {}, list: [1, 2], long: 'x'.repeat(70), within: [{ kind: 'different', note: null }] }
  const text = jsonText(value)
  expect(text.split('\n')).toContain('  "list": [1, 2],')
  expect(JSON.parse(text)).toEqual(value)
})
