import { expect, it } from 'vitest'
import { shapeOf } from './shape-of.ts'

const holder = {
  components: { securitySchemes: {}, schemas: { Role: { enum: ['planner', 'operator'] } } },
}

it('the shape of a body holds what is needed, filled with what the schema says first', () => {
  expect(
    shapeOf(holder, {
      type: 'object',
      properties: {
        name: { type: 'string' },
        note: { type: 'string' },
        format: { const: 'haspwright/order/1' },
        days: { type: 'integer', minimum: 1 },
        roles: { type: 'array', items: { $ref: '#/components/schemas/Role' } },
        keying: { oneOf: [{ type: 'object', properties: { kind: { const: 'alike' } }, required: ['kind'] }] },
        limit: { anyOf: [{ type: 'null' }, { type: 'number' }] },
        rules: { type: 'object', default: {} },
        each: { type: 'object', additionalProperties: { type: 'boolean' } },
      },
      required: ['name', 'format', 'days', 'roles', 'keying', 'limit', 'rules', 'each'],
    }),
  ).toEqual({
    name: '…',
    format: 'haspwright/order/1',
    days: 1,
    roles: ['planner'],
    keying: { kind: 'alike' },
    limit: null,
    rules: {},
    each: { '…': false },
  })
})
