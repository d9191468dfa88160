import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hexavalentChromium, hydrogenEmbrittlement, nickelSalts } from '../caution.ts'
import {
  b456Remembered,
  b456Seen,
  CHROMIUM_KINDS,
  COATING_ROWS,
  designation,
  SERVICE_CONDITIONS,
  SERVICE_TITLES,
} from '../materials/service-conditions.ts'
import { iso4042SaltSpray, ZINC_ROWS } from '../materials/zinc-salt-spray.ts'
import { choice, list, quantity, text } from '../quantity.ts'

const KINDS = ['nickel-chromium', 'nickel-trivalent-chromium', 'nickel-alone', 'zinc'] as const
const CLASS_TITLES = { A: 'clear', B: 'bleached', C: 'iridescent', D: 'opaque' } as const

interface Alternative {
  readonly kind: (typeof KINDS)[number]
  readonly coating: string
  readonly thicknessUm: number | null
  readonly saltSprayHours: number | null
  readonly verdict: 'holds' | 'falls-short' | 'not-known'
  readonly because: string
}

/** Coatings of the lock side by side, each only with what a source says of it. */
export const compareCoatings = calculation({
  id: 'finish.compare-coatings',
  title: 'Coatings side by side',
  summary:
    'Nickel and chromium, trivalent chromium, nickel alone, and zinc with chromate against a service condition and hours of salt spray; what no source says stays not known.',
  assumes: ['steel below', 'salt spray compares loads of one coating; it does not foretell the life of different ones'],
  sources: [b456Seen, b456Remembered, iso4042SaltSpray],
  cautions: [nickelSalts, hexavalentChromium, hydrogenEmbrittlement],
  input: z.strictObject({
    condition: choice('Service condition', SERVICE_CONDITIONS, SERVICE_TITLES),
    chromium: choice('Chromium', CHROMIUM_KINDS, {
      regular: 'Regular',
      microcracked: 'Microcracked',
      microporous: 'Microporous',
    }),
    saltSprayHours: quantity(null, 'h', 'Neutral salt spray without red rust, at least', { min: 1, max: 10_000 }),
  }),
  output: z.strictObject({
    alternatives: list(
      'Alternatives',
      z.strictObject({
        kind: choice('Coating', KINDS, {
          'nickel-chromium': 'Nickel and chromium from hexavalent bath',
          'nickel-trivalent-chromium': 'Nickel and chromium from trivalent bath',
          'nickel-alone': 'Nickel alone',
          zinc: 'Zinc with chromate',
        }),
        coating: text('Coating, as written', { max: 120 }),
        thicknessUm: quantity(null, 'µm', 'Thickness at least').nullable(),
        saltSprayHours: quantity(null, 'h', 'Red rust in salt spray not before').nullable(),
        verdict: choice('Against the hours asked for', ['holds', 'falls-short', 'not-known'], {
          holds: 'Holds',
          'falls-short': 'Falls short',
          'not-known': 'Not known',
        }),
        because: text('Because', { max: 300 }),
      }),
      { max: 4 },
    ),
  }),
  examples: [
    {
      title: 'zinc for 120 h: 8 µm with iridescent chromate (ISO 4042, table B.1)',
      source: iso4042SaltSpray,
      input: { condition: '3', chromium: 'regular', saltSprayHours: 120 },
      output: {
        alternatives: [
          { kind: 'nickel-trivalent-chromium', verdict: 'not-known' },
          { kind: 'nickel-chromium', thicknessUm: 30, verdict: 'not-known' },
          { kind: 'nickel-alone', verdict: 'not-known' },
          {
            kind: 'zinc',
            coating: 'Fe/Zn 8, chromate C, iridescent',
            thicknessUm: 8,
            saltSprayHours: 120,
            verdict: 'holds',
          },
        ],
      },
    },
  ],
  run({ condition, chromium, saltSprayHours }, report) {
    const row = COATING_ROWS.find((one) => one.condition === condition && one.chromium === chromium)
    if (row !== undefined && !row.seen)
      report.notice(`The row ${designation(row)} is from memory: confirm it in ASTM B456 before it is promised.`)
    const asked = `${saltSprayHours} h`
    return {
      alternatives: [
        {
          kind: 'nickel-trivalent-chromium' as const,
          coating: row === undefined ? 'Nickel and trivalent chromium' : `${designation(row)}, trivalent`,
          thicknessUm: row?.nickelUm ?? null,
          saltSprayHours: null,
          verdict: 'not-known' as const,
          because: `No source read gives hours for chromium from a trivalent bath: test it for ${asked}. It is the first choice for health.`,
        },
        {
          kind: 'nickel-chromium' as const,
          coating: row === undefined ? 'Nickel and chromium' : designation(row),
          thicknessUm: row?.nickelUm ?? null,
          saltSprayHours: null,
          verdict: 'not-known' as const,
          because:
            row === undefined
              ? `No row for ${chromium} chromium in this service condition is known here.`
              : `The standard asks for thickness by service condition; neutral salt spray hours are not part of the rows read: test it for ${asked}.`,
        },
        {
          kind: 'nickel-alone' as const,
          coating: 'Nickel',
          thicknessUm: null,
          saltSprayHours: null,
          verdict: 'not-known' as const,
          because: 'No source read gives a thickness or hours for nickel without chromium; it tarnishes.',
        },
        zincFor(saltSprayHours),
      ],
    }
  },
  working: 'Rows of the cited tables side by side; nothing is computed, and what no row says is given as not known.',
})

/** The thinnest zinc, then the plainest chromate, that the table gives for the hours; the best row where none does. */
function zincFor(hours: number): Alternative {
  const enough = ZINC_ROWS.find(({ redHours }) => redHours >= hours)
  const row = enough ?? ZINC_ROWS.reduce((best, one) => (one.redHours > best.redHours ? one : best))
  return {
    kind: 'zinc',
    coating: `Fe/Zn ${row.um}, chromate ${row.chromate}, ${CLASS_TITLES[row.chromate]}`,
    thicknessUm: row.um,
    saltSprayHours: row.redHours,
    verdict: enough === undefined ? 'falls-short' : 'holds',
    because: `Table B.1: white corrosion not before ${row.whiteHours} h, red rust not before ${row.redHours} h; the chromates of that edition are hexavalent.`,
  }
}
