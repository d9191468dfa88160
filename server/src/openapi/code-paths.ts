import { PAGE } from './order-paths.ts'
import { body, type Json, list, parameter, ref, refused, result } from './words.ts'

const wholeNumber: Json = { type: 'string', pattern: '^[0-9]+$' }
const codeSpace: Json = {
  type: 'object',
  properties: {
    design: { type: 'string' },
    title: { type: 'string' },
    space: { type: 'string', description: 'Designs with the same discs, values and rules share a space' },
    discs: { type: 'integer' },
    values: { type: 'integer' },
    total: wholeNumber,
    usable: wholeNumber,
    givenOut: wholeNumber,
    withdrawn: wholeNumber,
    imported: wholeNumber,
    passedOver: wholeNumber,
    reserved: wholeNumber,
    withdrawals: { type: 'array', items: { type: 'object' } },
    reservations: { type: 'array', items: { type: 'object' } },
    imports: { type: 'array', items: { type: 'object' } },
    orders: { type: 'array', items: { type: 'string' } },
  },
  required: ['design', 'title', 'space', 'discs', 'values', 'total', 'givenOut', 'orders'],
}

const codeAct = (summary: string, schema: string): Json => ({
  post: {
    summary,
    requestBody: body(ref(schema)),
    responses: {
      200: result('Done, and written down', {
        type: 'object',
        properties: { done: { type: 'object' }, space: codeSpace },
        required: ['done', 'space'],
      }),
      ...refused(404, 413, 415, 422),
    },
  },
})
const codeDesign = parameter('design', 'Design number', 'HB50')

/** How far codes have been given out, and what is done to them. */
export const codePaths: Json = {
  '/api/codes': {
    get: {
      summary: 'How far the codes of every design have been given out: counts alone, never a code',
      parameters: PAGE,
      responses: {
        200: result('A page of the list; next goes into before', list('spaces', codeSpace)),
        ...refused(422),
      },
    },
  },
  '/api/codes/{design}/withdrawals': {
    parameters: [codeDesign],
    ...codeAct('Take a code out of use for good', 'Withdrawal'),
  },
  '/api/codes/{design}/reservations': {
    parameters: [codeDesign],
    ...codeAct('Keep a range of issue numbers from being given out', 'RangeToReserve'),
  },
  '/api/codes/{design}/reservations/{id}/release': {
    parameters: [codeDesign, parameter('id', 'The reservation')],
    ...codeAct('Give a reserved range back', 'ReleaseOfRange'),
  },
  '/api/codes/{design}/imports': {
    parameters: [codeDesign],
    ...codeAct('Take over codes from before the tool; nothing unless every bad line is set aside', 'EarlierCodesList'),
  },
}
