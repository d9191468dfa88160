import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { strengthIsEstimated } from '../caution.ts'
import { refuse } from '../issue.ts'
import { HARDNESS_RANGE, hardnessTable, hrcFromHv, hvFromHrc, tensileFromHv } from '../materials/hardness-table.ts'
import { choice, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const e140Table = source({
  id: 'astm-e140.excerpt',
  status: 'standard',
  citation: 'Hardness conversion table of ASTM E140 type, public copy of a metal stockist',
  place: 'rows 50 and 40 HRC',
})

/** Rockwell C, Vickers and tensile strength, one from the other. */
export const convertHardness = calculation({
  id: 'heat.convert-hardness',
  title: 'Hardness scales and tensile strength',
  summary: 'Rockwell C to Vickers or back, with the tensile strength the table sets beside it.',
  assumes: ['unalloyed or low-alloy steel, not cold worked', 'linear between the rows of the table'],
  sources: [hardnessTable],
  cautions: [strengthIsEstimated],
  input: z.strictObject({
    from: choice('Scale measured', ['HRC', 'HV'], { HRC: 'Rockwell C', HV: 'Vickers' }),
    value: quantity(null, '', 'Hardness measured', {
      min: HARDNESS_RANGE.hrc[0],
      max: HARDNESS_RANGE.hv[1],
      help: 'The table holds 20.3 to 57.8 HRC and 90 to 650 HV',
    }),
  }),
  output: z.strictObject({
    hrc: quantity(null, 'HRC', 'Rockwell C').optional(),
    hv: quantity(null, 'HV', 'Vickers'),
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength'),
  }),
  examples: [
    {
      title: 'HV 400 is 40.8 HRC and 1290 MPa (row HV 400)',
      source: hardnessTable,
      input: { from: 'HV', value: 400 },
      output: { hrc: 40.8, hv: 400, tensileMPa: 1290 },
    },
    {
      title: 'HV 200 is 640 MPa, below the Rockwell C scale (row HV 200)',
      source: hardnessTable,
      input: { from: 'HV', value: 200 },
      output: { hv: 200, tensileMPa: 640 },
    },
    {
      title: '49.1 HRC is HV 500 and 1630 MPa (row HV 500)',
      source: hardnessTable,
      input: { from: 'HRC', value: 49.1 },
      output: { hv: 500, tensileMPa: 1630 },
      tolerance: { relative: 1e-9 },
      reason: 'a row of the table',
    },
    {
      title: '50 HRC is HV 513 in a table of ASTM E140 type',
      source: e140Table,
      input: { from: 'HRC', value: 50 },
      output: { hv: 513 },
      tolerance: { absolute: 8 },
      reason: 'another committee measured it; 1 HRC is about 15 HV there',
    },
  ],
  run({ from, value }) {
    const hv = from === 'HV' ? value : hvFromHrc(value)
    const tensileMPa = hv === undefined ? undefined : tensileFromHv(hv)
    if (hv === undefined || tensileMPa === undefined) {
      const [low, high] = from === 'HV' ? HARDNESS_RANGE.hv : HARDNESS_RANGE.hrc
      return refuse({
        path: 'value',
        code: 'out-of-range',
        message: 'The table ends before this hardness, and nothing is guessed beyond it.',
        value,
        allowed: `${low} to ${high} ${from}`,
      })
    }
    const hrc = from === 'HRC' ? value : hrcFromHv(hv)
    return { ...(hrc === undefined ? {} : { hrc }), hv, tensileMPa }
  },
  working:
    'Read from table A.1 of ISO 18265, linear between its rows. The last row on either side is the end: nothing is extrapolated.',
})
