import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { type Caution, hexavalentChromium, hydrogenEmbrittlement, nickelSalts, trivalentChromium } from '../caution.ts'
import { DEPOSIT_METALS, type DepositMetalName, deposits } from '../materials/deposits.ts'
import {
  b456Remembered,
  b456Seen,
  CHROMIUM_KINDS,
  COATING_ROWS,
  designation,
  leastChromiumUm,
  SERVICE_CONDITIONS,
  SERVICE_TITLES,
} from '../materials/service-conditions.ts'
import { iso4042SaltSpray, ZINC_ROWS } from '../materials/zinc-salt-spray.ts'
import { choice, count, list, percent, quantity, text } from '../quantity.ts'
import { depositMinutes } from './deposit.ts'
import { bakeHours } from './relief-bake.ts'

const KINDS = ['nickel-chromium', 'nickel-trivalent-chromium', 'nickel-alone', 'zinc'] as const
const KIND_TITLES = {
  'nickel-chromium': 'Nickel and chromium from hexavalent bath',
  'nickel-trivalent-chromium': 'Nickel and chromium from trivalent bath',
  'nickel-alone': 'Nickel alone',
  zinc: 'Zinc with chromate',
} as const
const CLASS_TITLES = { A: 'clear', B: 'bleached', C: 'iridescent', D: 'opaque' } as const

type Kind = (typeof KINDS)[number]

/** What the tables say of a coating. */
interface Alternative {
  readonly kind: Kind
  readonly coating: string
  readonly thicknessUm: number | null
  readonly saltSprayHours: number | null
  readonly verdict: 'holds' | 'falls-short' | 'not-known'
  readonly because: string
  /** Metals and thickness in µm, first plated first; empty where no source gives them. */
  readonly layers: readonly (readonly [metal: DepositMetalName, thicknessUm: number])[]
}

const CAUTIONS: Readonly<Record<Kind, readonly Caution[]>> = {
  'nickel-trivalent-chromium': [trivalentChromium, nickelSalts],
  'nickel-chromium': [hexavalentChromium, nickelSalts],
  'nickel-alone': [nickelSalts],
  // The rows of salt spray read are for hexavalent chromates.
  zinc: [hexavalentChromium],
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
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength of the steel', {
      min: 100,
      max: 2500,
      help: 'Given, the bake after plating stands beside each coating',
    }).optional(),
    baths: list(
      'Baths at hand',
      z.strictObject({
        metal: choice('Metal', DEPOSIT_METALS, Object.fromEntries(DEPOSIT_METALS.map((m) => [m, deposits[m].title]))),
        currentDensityAPerDm2: quantity('j', 'A/dm²', 'Current density', { min: 0.01, max: 100 }),
        efficiencyPercent: percent(null, 'Cathode efficiency', { min: 0.1, max: 100 }),
      }),
      { min: 0, max: 8 },
    ).optional(),
    costs: list(
      'Costs of the works',
      z.strictObject({
        kind: choice('Coating', KINDS, KIND_TITLES),
        minorPerDm2: count('Cost of a dm², in the smallest coin', { min: 0, max: 1_000_000 }),
      }),
      { min: 0, max: 4 },
    ).optional(),
  }),
  output: z.strictObject({
    alternatives: list(
      'Alternatives',
      z.strictObject({
        kind: choice('Coating', KINDS, KIND_TITLES),
        coating: text('Coating, as written', { max: 120 }),
        thicknessUm: quantity(null, 'µm', 'Thickness at least').nullable(),
        saltSprayHours: quantity(null, 'h', 'Red rust in salt spray not before').nullable(),
        verdict: choice('Against the hours asked for', ['holds', 'falls-short', 'not-known'], {
          holds: 'Holds',
          'falls-short': 'Falls short',
          'not-known': 'Not known',
        }),
        because: text('Because', { max: 300 }),
        minutes: quantity(null, 'min', 'Time in plating tanks at that thickness').nullable(),
        bakeHours: quantity(null, 'h', 'Bake against hydrogen after plating', { min: 0 }).nullable(),
        hydrogen: text('Hydrogen', { max: 300 }),
        cautions: list('Cautions', text('Caution', { max: 400 }), { min: 0, max: 4 }),
        costMinorPerDm2: count('Cost of a dm², in the smallest coin', { min: 0 }).nullable(),
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
  run({ condition, chromium, saltSprayHours, tensileMPa, baths = [], costs = [] }, report) {
    const row = COATING_ROWS.find((one) => one.condition === condition && one.chromium === chromium)
    if (row !== undefined && !row.seen)
      report.notice(`The row ${designation(row)} is from memory: confirm it in ASTM B456 before it is promised.`)
    const asked = `${saltSprayHours} h`
    const chromiumUm = leastChromiumUm(condition)
    const over = (metal: DepositMetalName): Alternative['layers'] =>
      row === undefined
        ? []
        : [
            ['nickel', row.nickelUm],
            [metal, chromiumUm],
          ]
    const alternatives: Alternative[] = [
      {
        layers: over('chromium(III)'),
        kind: 'nickel-trivalent-chromium' as const,
        coating: row === undefined ? 'Nickel and trivalent chromium' : `${designation(row)}, trivalent`,
        thicknessUm: row?.nickelUm ?? null,
        saltSprayHours: null,
        verdict: 'not-known' as const,
        because: `No source read gives hours for chromium from a trivalent bath: test it for ${asked}. It is the first choice for health.`,
      },
      {
        layers: over('chromium(VI)'),
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
        layers: [],
        kind: 'nickel-alone' as const,
        coating: 'Nickel',
        thicknessUm: null,
        saltSprayHours: null,
        verdict: 'not-known' as const,
        because: 'No source read gives a thickness or hours for nickel without chromium; it tarnishes.',
      },
      zincFor(saltSprayHours),
    ]
    return {
      alternatives: alternatives.map(({ layers, ...alternative }) => ({
        ...alternative,
        minutes: minutesFor(layers, baths),
        bakeHours: tensileMPa === undefined ? null : bakeHours(tensileMPa),
        hydrogen: hydrogenOf(alternative.kind, tensileMPa),
        cautions: CAUTIONS[alternative.kind].map(({ title, text: what }) => `${title}: ${what}`),
        costMinorPerDm2: costs.find(({ kind }) => kind === alternative.kind)?.minorPerDm2 ?? null,
      })),
    }
  },
  working: 'Rows of the cited tables side by side; nothing is computed, and what no row says is given as not known.',
})

interface Bath {
  readonly metal: DepositMetalName
  readonly currentDensityAPerDm2: number
  readonly efficiencyPercent: number
}

/** Minutes of all layers one after the other; `null` where a thickness or a bath is not known. */
function minutesFor(layers: Alternative['layers'], baths: readonly Bath[]): number | null {
  if (layers.length === 0) return null
  let minutes = 0
  for (const [metal, thicknessUm] of layers) {
    const bath = baths.find((one) => one.metal === metal)
    if (bath === undefined) return null
    minutes += depositMinutes({ ...bath, thicknessUm })
  }
  return minutes
}

function hydrogenOf(kind: Kind, tensileMPa: number | undefined): string {
  if (tensileMPa === undefined) return 'The strength of the steel is not given: whether it must be baked is not known.'
  if (bakeHours(tensileMPa) === 0) return 'Below the strength from which a bake is asked for.'
  return kind === 'zinc'
    ? 'Zinc takes in hydrogen and holds it back: baked before the chromate, which the bake would spoil (common practice, no source).'
    : 'Every bath and the acid before it brings hydrogen in: baked within the deadline, after the last bath.'
}

/** The thinnest zinc, then the plainest chromate, that the table gives for the hours; the best row where none does. */
function zincFor(hours: number): Alternative {
  const enough = ZINC_ROWS.find(({ redHours }) => redHours >= hours)
  const row = enough ?? ZINC_ROWS.reduce((best, one) => (one.redHours > best.redHours ? one : best))
  return {
    layers: [['zinc', row.um]],
    kind: 'zinc',
    coating: `Fe/Zn ${row.um}, chromate ${row.chromate}, ${CLASS_TITLES[row.chromate]}`,
    thicknessUm: row.um,
    saltSprayHours: row.redHours,
    verdict: enough === undefined ? 'falls-short' : 'holds',
    because: `Table B.1: white corrosion not before ${row.whiteHours} h, red rust not before ${row.redHours} h; the chromates of that edition are hexavalent.`,
  }
}
