import type { ApiDocument } from '@haspwright/server/client'
import { describe, expect, it } from 'vitest'
import { matching, routesBySubject } from './routes-by-subject.ts'

const refused = { 404: { description: 'None' } }
const document: ApiDocument = {
  info: { title: '', version: '', description: '' },
  tags: [
    { name: 'Codes', description: '' },
    { name: 'Orders', description: 'Handed in' },
  ],
  paths: {
    '/api/orders/{id}': {
      parameters: [{ name: 'id', in: 'path', schema: {} }],
      get: {
        operationId: 'get-orders-id',
        tags: ['Orders'],
        summary: 'An order',
        security: [{ session: [] }, { token: ['orders:read'] }],
        'x-who': 'Planner (may see orders); a token with orders:read',
        parameters: [{ name: 'version', in: 'query', schema: {} }],
        responses: { 200: { description: 'The order' }, ...refused },
      },
      delete: { operationId: 'delete-orders-id', tags: ['Orders'], summary: 'Away', security: [], responses: {} },
    },
    '/api/codes': {
      get: { operationId: 'get-codes', tags: ['Codes'], summary: 'Codes', security: [{ session: [] }], responses: {} },
    },
  },
  components: { securitySchemes: {}, schemas: {} },
}

describe('the routes of a document', () => {
  const subjects = routesBySubject(document)
  const [codes, orders] = subjects

  it('stand under their subjects in the order of the document', () => {
    expect(subjects.map(({ name, routes }) => [name, ...routes.map((route) => route.name)])).toEqual([
      ['Codes', 'get-codes'],
      ['Orders', 'get-orders-id', 'delete-orders-id'],
    ])
  })

  it('have the parameters of their path and their own, and say what refuses', () => {
    const route = orders?.routes[0]
    expect(route?.parameters.map(({ name }) => name)).toEqual(['id', 'version'])
    expect(route?.answers.map(({ status, refused: is }) => [status, is])).toEqual([
      ['200', false],
      ['404', true],
    ])
  })

  it('say who may call, and whether a token reaches them', () => {
    expect(orders?.routes[0]?.access).toEqual({
      kind: 'people-and-tokens',
      words: ['Planner (may see orders)', 'a token with orders:read'],
      scopes: ['orders:read'],
    })
    expect(orders?.routes[1]?.access.kind).toBe('anybody')
    expect(codes?.routes[0]?.access.kind).toBe('people')
  })

  it('are found by all words that are typed, in whatever order', () => {
    const found = (find: string) => matching(subjects, find).flatMap(({ routes }) => routes.map(({ name }) => name))
    expect(found('')).toHaveLength(3)
    expect(found('planner ORDERS')).toEqual(['get-orders-id'])
    expect(found('delete')).toEqual(['delete-orders-id'])
    expect(found('orders nothing-like-it')).toEqual([])
    expect(matching(subjects, 'codes')).toHaveLength(1)
  })
})
