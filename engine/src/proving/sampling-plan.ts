import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { refuse } from '../issue.ts'
import { choice, count, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { AQLS, codeLetter, LEVELS, planAt, SEVERITIES, samplingTables } from './sampling-tables.ts'

const schemeVignette = source({
  id: 'vignette.aql-schemes',
  status: 'handbook',
  citation: 'Introduction to AQL sampling schemes that comes with a public statistics package',
  place: 'level II, lot 3201 to 10 000, AQL 1.5',
})

/** How many locks of a lot to try, and how many failures the lot may still have. */
export const samplingPlan = calculation({
  id: 'proving.sampling-plan',
  title: 'Sampling plan for a lot',
  summary:
    'Sample size with acceptance and rejection number for a lot, single sampling by attributes as in ISO 2859-1.',
  assumes: ['the sample is drawn at random from the whole lot', 'lots come from one running process'],
  sources: [samplingTables],
  input: z.strictObject({
    lotSize: count('Lot size', { symbol: 'N', min: 2, max: 1_000_000_000 }),
    level: choice('Inspection level', LEVELS),
    aqlPercent: quantity('AQL', '%', 'Acceptable quality limit', {
      min: 0.01,
      max: 1000,
      help: 'One of the 26 values of the table; above 10 they count nonconformities per hundred items',
    }),
    severity: choice('Severity', SEVERITIES, { normal: 'Normal', tightened: 'Tightened', reduced: 'Reduced' }),
  }),
  output: z.strictObject({
    codeLetter: text('Code letter of the lot size'),
    planLetter: text('Letter of the plan used'),
    sampleSize: count('Sample', { symbol: 'n', min: 1 }),
    accept: count('Accept at', { symbol: 'Ac', min: 0 }),
    reject: count('Reject at', { symbol: 'Re', min: 1 }),
    inspectAll: z.boolean().meta({ title: 'Every item is inspected' }),
  }),
  examples: [
    {
      title: 'level II, lot 3201–10 000, AQL 1.5, normal: 200, accept 7 (introduction to AQL schemes)',
      source: schemeVignette,
      input: { lotSize: 5000, level: 'II', aqlPercent: 1.5, severity: 'normal' },
      output: { codeLetter: 'L', planLetter: 'L', sampleSize: 200, accept: 7, reject: 8 },
    },
    {
      title: 'the same, tightened: 200, accept 5 (introduction to AQL schemes)',
      source: schemeVignette,
      input: { lotSize: 5000, level: 'II', aqlPercent: 1.5, severity: 'tightened' },
      output: { sampleSize: 200, accept: 5, reject: 6 },
    },
    {
      title: 'padlocks, level S-2, AQL 6.5, lot 1000: letter C leads down to D, 8, accept 1 (table II-A)',
      source: samplingTables,
      input: { lotSize: 1000, level: 'S-2', aqlPercent: 6.5, severity: 'normal' },
      output: { codeLetter: 'C', planLetter: 'D', sampleSize: 8, accept: 1, reject: 2, inspectAll: false },
    },
  ],
  run({ lotSize, level, aqlPercent, severity }, report) {
    if (!(AQLS as readonly number[]).includes(aqlPercent))
      return refuse({
        path: 'aqlPercent',
        code: 'not-a-choice',
        message: 'The tables hold 26 values of the AQL; this is none of them.',
        value: aqlPercent,
        allowed: AQLS.join(', '),
      })
    const letter = codeLetter(lotSize, level)
    const plan = planAt(severity, letter, aqlPercent)
    const inspectAll = plan.sampleSize >= lotSize
    if (inspectAll)
      report.notice(`The plan asks for ${plan.sampleSize} and the lot has ${lotSize}: inspect every item.`)
    if (severity === 'reduced')
      report.notice(
        plan.reject > plan.accept + 1
          ? `Reduced plans are those of MIL-STD-105E: with more than ${plan.accept} and fewer than ${plan.reject} failures accept this lot, but return to normal inspection. ISO 2859-1:1999 closed this gap.`
          : 'Reduced plans are those of MIL-STD-105E; ISO 2859-1:1999 changed some of them.',
      )
    if (aqlPercent > 10)
      report.notice('Above 10 the AQL counts nonconformities per hundred items, not nonconforming items.')
    return {
      codeLetter: letter,
      planLetter: plan.letter,
      sampleSize: Math.min(plan.sampleSize, lotSize),
      accept: plan.accept,
      reject: plan.reject,
      inspectAll,
    }
  },
  working:
    'The lot size and the level give the code letter; the letter and the AQL a cell of the master table; its arrows are followed to the plan.',
})
