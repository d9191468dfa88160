import { jsonSchemaOf } from '../json-schemas.ts'
import * as bodies from '../routes/floor-schemas.ts'
import { body, type Json, list, parameter, ref, refused, result } from './words.ts'

export const floorSchemas: Json = Object.fromEntries(
  Object.entries(bodies).map(([name, schema]) => [name, jsonSchemaOf(schema)]),
)

const order = parameter('id', 'Order number')
const lot = parameter('lot', 'Lot number, as on its traveller')
const load = parameter('load', 'Number of the load, given by whoever starts it')
const texts = (...names: string[]) => Object.fromEntries(names.map((name) => [name, { type: 'string' }]))
const object = (properties: Json, ...optional: string[]): Json => ({
  type: 'object',
  properties,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
})

const floorLot = object(
  {
    ...texts('id', 'order', 'line', 'design', 'openedAt'),
    designVersion: { type: 'integer' },
    locks: { type: 'integer' },
    released: object(texts('person', 'name', 'at')),
  },
  'designVersion',
  'released',
)
const floorLoad = object(
  {
    ...texts('id', 'kind', 'equipment', 'startedAt', 'endedAt'),
    lots: { type: 'array', items: { type: 'string' } },
  },
  'startedAt',
  'endedAt',
)
const operation = object(
  texts('id', 'lot', 'step', 'equipment', 'load', 'person', 'name', 'startedAt', 'endedAt'),
  'equipment',
  'load',
  'endedAt',
)
const measurement = object(
  {
    ...texts('id', 'lot', 'characteristic', 'unit', 'gauge', 'person', 'name', 'measuredAt', 'replaces', 'replacedBy'),
    value: { type: 'number' },
  },
  'gauge',
  'replaces',
  'replacedBy',
)
const each = (items: Json): Json => ({ type: 'array', items })
const heats = each({ type: 'string' })

const SAID_ALREADY = result('Something else is recorded already: other content, an end, a release', ref('Error'))

/** Something that is recorded; what was recorded already is answered as it is. */
const recorded = (summary: string, schema: Json, asked?: keyof typeof bodies): Json => ({
  summary,
  ...(asked === undefined ? {} : { requestBody: body(ref(asked)) }),
  responses: {
    200: result('As it is recorded', schema),
    ...(asked === undefined ? refused(404, 422) : refused(404, 413, 415, 422)),
    409: SAID_ALREADY,
  },
})
const shown = (summary: string, schema: Json): Json => ({
  summary,
  responses: { 200: result('What is recorded', schema), ...refused(404) },
})

/** Lots, loads, operations, measurements and releases. */
export const floorPaths: Json = {
  '/api/orders/{id}/lots': {
    parameters: [order],
    get: shown('Lots of an order that were opened', list('lots', floorLot)),
  },
  '/api/orders/{id}/lots/{lot}': {
    parameters: [order, lot],
    put: recorded('Open a lot of the order, with the design as it is now', floorLot),
  },
  '/api/orders/{id}/locks/{lock}/origin': {
    parameters: [order, parameter('lock', 'The lock, as its order calls it')],
    get: shown('Lot and bar heats a lock came from', object({ ...texts('lock', 'lot'), heats })),
  },
  '/api/lots/{lot}': {
    parameters: [lot],
    get: shown(
      'All that is recorded of a lot',
      object({
        lot: floorLot,
        heats,
        loads: each(floorLoad),
        operations: each(operation),
        measurements: each(measurement),
      }),
    ),
  },
  '/api/lots/{lot}/heats': {
    parameters: [lot],
    post: recorded('Say which heat its bars were of', object(texts('lot', 'heat')), 'LotCut'),
  },
  '/api/lots/{lot}/operations/{operation}': {
    parameters: [lot, parameter('operation', 'Number of the operation, given by whoever begins it')],
    put: recorded('Begin an operation', operation, 'OperationBegun'),
  },
  '/api/operations/{operation}/end': {
    parameters: [parameter('operation', 'Number of the operation')],
    post: recorded('End an operation, once', operation, 'Ended'),
  },
  '/api/lots/{lot}/measurements/{measurement}': {
    parameters: [lot, parameter('measurement', 'Number of the measurement, given by whoever measures')],
    put: recorded('Record a measurement; the same again is no second time', measurement, 'MeasurementTaken'),
  },
  '/api/lots/{lot}/release': {
    parameters: [lot],
    post: recorded(
      'Release a lot, once',
      object({
        ...texts('lot', 'at', 'event'),
        measurements: { type: 'integer' },
        openOperations: { type: 'integer' },
      }),
    ),
  },
  '/api/loads/{load}': {
    parameters: [load],
    get: shown('A furnace load, rack or barrel with the lots in it', floorLoad),
    put: recorded('Start a load', floorLoad, 'LoadStarted'),
  },
  '/api/loads/{load}/end': { parameters: [load], post: recorded('End a load, once', floorLoad, 'Ended') },
  '/api/loads/{load}/locks': {
    parameters: [load],
    get: shown('Locks that share the load', list('locks', object(texts('lock', 'order', 'name', 'lot')))),
  },
}
