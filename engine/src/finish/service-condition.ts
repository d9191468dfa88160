import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hexavalentChromium, nickelSalts } from '../caution.ts'
import { refuse } from '../issue.ts'
import {
  b456Chromium,
  b456Remembered,
  b456Seen,
  CHROMIUM_KINDS,
  CHROMIUM_UM,
  COATING_ROWS,
  designation,
  leastChromiumUm,
  NICKEL_KINDS,
  SEMI_BRIGHT_PERCENT,
  SERVICE_CONDITIONS,
  SERVICE_TITLES,
} from '../materials/service-conditions.ts'
import { choice, percent, quantity, text } from '../quantity.ts'

/** How thick nickel and chromium must be, at the thinnest significant place, for the service the lock is sold into. */
export const serviceCondition = calculation({
  id: 'finish.service-condition',
  title: 'Nickel and chromium for a service',
  summary:
    'Least nickel and chromium on steel for a service condition of ASTM B456, with the designation of the coating.',
  assumes: ['the thickness is the least on the significant surface, not the mean', 'steel below, no copper between'],
  sources: [b456Seen, b456Chromium, b456Remembered],
  cautions: [nickelSalts, hexavalentChromium],
  input: z.strictObject({
    condition: choice('Service condition', SERVICE_CONDITIONS, SERVICE_TITLES),
    chromium: choice('Chromium', CHROMIUM_KINDS, {
      regular: 'Regular',
      microcracked: 'Microcracked',
      microporous: 'Microporous',
    }),
  }),
  output: z.strictObject({
    designation: text('Designation'),
    nickelUm: quantity(null, 'µm', 'Nickel at least'),
    nickel: choice('Nickel', NICKEL_KINDS, { bright: 'Bright, one layer', 'double-layer': 'Double layer' }),
    semiBrightPercent: percent(null, 'Of it semi-bright, at least', { min: 0, max: 100 }),
    chromiumUm: quantity(null, 'µm', 'Chromium'),
    leastChromiumUm: quantity(null, 'µm', 'Chromium at least'),
    rowRead: z.boolean().meta({ title: 'Row read in a copy of the standard' }),
  }),
  examples: [
    {
      title: 'severe, regular chromium: Fe/Ni30d Cr r (guidebook table)',
      source: b456Seen,
      input: { condition: '3', chromium: 'regular' },
      output: { designation: 'Fe/Ni30d Cr r', nickelUm: 30, rowRead: true },
    },
    {
      title: 'very severe, regular chromium: Fe/Ni40d Cr r (guidebook table)',
      source: b456Seen,
      input: { condition: '4', chromium: 'regular' },
      output: { designation: 'Fe/Ni40d Cr r', nickelUm: 40, chromiumUm: 0.3, leastChromiumUm: 0.25 },
    },
    {
      title: 'extended very severe, microporous chromium: Fe/Ni35d Cr mp (guidebook table)',
      source: b456Seen,
      input: { condition: '5', chromium: 'microporous' },
      output: { designation: 'Fe/Ni35d Cr mp', nickelUm: 35, semiBrightPercent: 60 },
    },
  ],
  run({ condition, chromium }, report) {
    const rows = COATING_ROWS.filter((row) => row.condition === condition)
    const found = rows.find((row) => row.chromium === chromium)
    if (found === undefined)
      return refuse({
        path: 'chromium',
        code: 'not-found',
        message: `No coating with ${chromium} chromium is known here for service condition ${condition}.`,
        value: chromium,
        allowed: rows.map((row) => row.chromium).join(', '),
      })
    if (!found.seen)
      report.notice(`The row ${designation(found)} is from memory: confirm it in ASTM B456 before it is promised.`)
    if (condition === '4' && chromium === 'microporous')
      report.notice('The copy of the table that was read prints Fe/Ni40d Cr mp here: 40 µm is the safe reading.')
    return {
      designation: designation(found),
      nickelUm: found.nickelUm,
      nickel: found.nickel,
      semiBrightPercent: found.nickel === 'double-layer' ? SEMI_BRIGHT_PERCENT : 0,
      chromiumUm: CHROMIUM_UM,
      leastChromiumUm: leastChromiumUm(condition),
      rowRead: found.seen,
    }
  },
  working:
    'Read from the table of ASTM B456 for coatings on steel; rows that could not be read are marked as remembered.',
})
