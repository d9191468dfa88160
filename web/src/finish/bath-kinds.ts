import { type PlatingBath, percent, quantity, text } from '@haspwright/engine'
import { z } from 'zod'

export const BATH_KINDS = ['nickel', 'chromium(III)', 'chromium(VI)'] as const
export type BathKindName = (typeof BATH_KINDS)[number]

/** What of a bath is analysed and can be set right by adding to it. */
const SUBSTANCES = [
  'nickel',
  'nickelChloride',
  'boricAcid',
  'chromium',
  'conductingSalt',
  'chromicAcid',
  'sulfate',
] as const
export type Substance = (typeof SUBSTANCES)[number]
/** What is followed over time: substances, the pH, and the charge since the additive was added. */
export type Followed = Substance | 'pH' | 'ampereHours'

interface SubstanceLimits {
  readonly lowGPerL: number
  readonly highGPerL: number
  readonly targetGPerL: number
  readonly contentPercent: number
}

/** A bath: its volume, and between which limits it is kept. */
export type BathLimits = {
  readonly volumeL: number
  readonly additiveMlPerKAh: number
  readonly mostAh: number
  readonly lowPh?: number
  readonly highPh?: number
} & { readonly [name in Substance]?: SubstanceLimits }

/** One analysis of a bath. What was not analysed is left out. */
export type BathAnalysis = { readonly date: string; readonly note?: string | undefined } & {
  readonly [name in Followed]?: number | undefined
}

/** A kind of bath: what is followed in it, what is added to it, and between which limits practice keeps it. */
export interface BathKind {
  readonly name: BathKindName
  readonly title: string
  readonly substances: readonly { readonly name: Substance; readonly title: string; readonly added: string }[]
  readonly additive: string
  readonly pH?: { readonly raise: string; readonly lower: string }
  /** Common practice (no source): the supplier's sheet decides. */
  readonly practice: BathLimits
}

const kept = (lowGPerL: number, targetGPerL: number, highGPerL: number, contentPercent = 100): SubstanceLimits => ({
  lowGPerL,
  highGPerL,
  targetGPerL,
  contentPercent,
})

export const BATHS: Readonly<Record<BathKindName, BathKind>> = {
  nickel: {
    name: 'nickel',
    title: 'nickel',
    substances: [
      { name: 'nickel', title: 'Nickel', added: 'nickel sulfate' },
      { name: 'nickelChloride', title: 'Nickel chloride', added: 'nickel chloride' },
      { name: 'boricAcid', title: 'Boric acid', added: 'boric acid' },
    ],
    additive: 'brightener',
    pH: {
      raise: 'raise with nickel carbonate in small steps',
      lower: 'lower with dilute sulfuric acid in small steps',
    },
    practice: {
      volumeL: 1800,
      additiveMlPerKAh: 200,
      mostAh: 5000,
      lowPh: 3.8,
      highPh: 4.5,
      // Nickel is added as sulfate with six waters.
      nickel: kept(65, 75, 85, 22.3),
      nickelChloride: kept(45, 55, 65),
      boricAcid: kept(38, 45, 50),
    },
  },
  'chromium(III)': {
    name: 'chromium(III)',
    title: 'trivalent chromium',
    substances: [
      { name: 'chromium', title: 'Chromium', added: 'chromium, as metal, with the supplier’s concentrate' },
      { name: 'conductingSalt', title: 'Conducting salt', added: 'conducting salt' },
      { name: 'boricAcid', title: 'Boric acid', added: 'boric acid' },
    ],
    additive: 'maintenance additive',
    pH: {
      raise: 'raise with the alkali that the supplier names, in small steps',
      lower: 'lower with the acid that the supplier names, in small steps',
    },
    practice: {
      volumeL: 900,
      additiveMlPerKAh: 900,
      mostAh: 1000,
      lowPh: 2.5,
      highPh: 3.6,
      chromium: kept(17, 20, 23),
      conductingSalt: kept(180, 200, 240),
      boricAcid: kept(50, 60, 70),
    },
  },
  'chromium(VI)': {
    name: 'chromium(VI)',
    title: 'hexavalent chromium',
    substances: [
      { name: 'chromicAcid', title: 'Chromic acid', added: 'chromic acid' },
      { name: 'sulfate', title: 'Sulfate', added: 'sulfuric acid of 96 %, diluted first' },
    ],
    additive: 'mist suppressant',
    practice: {
      volumeL: 900,
      additiveMlPerKAh: 0,
      mostAh: 10_000,
      chromicAcid: kept(225, 250, 275),
      // One part of sulfate to a hundred of chromic acid; 96 % acid holds 94 % of its mass as sulfate.
      sulfate: kept(2.2, 2.5, 2.8, 94),
    },
  },
}

export const followedOf = ({ substances, pH }: BathKind): readonly Followed[] => [
  ...substances.map(({ name }) => name),
  ...(pH === undefined ? [] : (['pH'] as const)),
  'ampereHours',
]
export const titleOf = ({ substances, additive }: BathKind, name: Followed): string =>
  name === 'pH'
    ? 'pH'
    : name === 'ampereHours'
      ? `Charge since ${additive}`
      : (substances.find((each) => each.name === name)?.title ?? name)
export const unitOf = (name: Followed) => (name === 'pH' ? '' : name === 'ampereHours' ? 'Ah' : 'g/L')

const gPerL = (title: string) => quantity(null, 'g/L', title, { min: 0, max: 1000 })

/** What an analysis of this bath must look like. */
export function analysisSchema(kind: BathKind) {
  const fields = Object.fromEntries(kind.substances.map(({ name, title }) => [name, gPerL(title).optional()]))
  return z
    .strictObject({
      date: z.iso.date({ error: 'Write the day as year-month-day, like 2026-01-18.' }).meta({
        title: 'Day of the sample',
        description: 'year-month-day',
      }),
      ...fields,
      ...(kind.pH === undefined ? {} : { pH: quantity(null, '', 'pH', { min: 0, max: 14 }).optional() }),
      ampereHours: quantity(null, 'Ah', `Charge since ${kind.additive} was added`, {
        min: 0,
        max: 10_000_000,
      }).optional(),
      note: text('Note', { min: 0, max: 200 }).optional(),
    })
    .refine((analysis) => followedOf(kind).some((name) => (analysis as BathAnalysis)[name] !== undefined), {
      path: ['date'],
      error: 'Nothing was analysed: give at least one figure.',
    })
}

/** What the limits of this bath must look like. */
export function limitsSchema({ substances, pH, additive }: BathKind) {
  const limits = (title: string) =>
    z
      .strictObject({
        lowGPerL: gPerL('At least'),
        highGPerL: gPerL('At most'),
        targetGPerL: quantity(null, 'g/L', 'Target', { min: 0.001, max: 1000 }),
        contentPercent: percent(null, 'Share of what is added that counts', { min: 0.1, max: 100 }),
      })
      .meta({ title })
  return z.strictObject({
    volumeL: quantity(null, 'L', 'Volume of the bath', { min: 0.1, max: 1_000_000 }),
    additiveMlPerKAh: quantity(null, 'mL/kAh', `Used up: ${additive}`, { min: 0, max: 100_000 }),
    mostAh: quantity(null, 'Ah', `Charge between two additions of ${additive}, at most`, { min: 1, max: 10_000_000 }),
    ...(pH === undefined
      ? {}
      : {
          lowPh: quantity(null, '', 'pH, at least', { min: 0, max: 14 }),
          highPh: quantity(null, '', 'pH, at most', { min: 0, max: 14 }),
        }),
    ...Object.fromEntries(substances.map(({ name, title }) => [name, limits(title)])),
  })
}

/**
 * The limits of a bath: what the works file states of its metal, salts and additive as targets, each between the shares of the target
 * that practice keeps; practice alone where it states nothing.
 */
export function limitsOf(kind: BathKind, stated: Pick<PlatingBath, 'metalGPerL' | 'salts' | 'additives'> | undefined) {
  if (stated === undefined) return kind.practice
  const targets = kind.substances.map(({ name, title }, i) => {
    const practice = kind.practice[name] ?? kept(0, 1, 1000)
    const salt = stated.salts.find((each) => each.name.toLowerCase() === title.toLowerCase())?.gPerL
    // The metal stands first; a hexavalent bath is analysed by its acid, not by its metal.
    const target = i === 0 && name !== 'chromicAcid' ? stated.metalGPerL : salt
    if (target === undefined || target === 0) return [name, practice] as const
    const share = target / practice.targetGPerL
    const rounded = (gPerLiter: number) => Number((gPerLiter * share).toPrecision(3))
    return [
      name,
      {
        ...practice,
        targetGPerL: target,
        lowGPerL: rounded(practice.lowGPerL),
        highGPerL: rounded(practice.highGPerL),
      },
    ] as const
  })
  const additive = stated.additives[0]?.mlPerKiloampereHour ?? kind.practice.additiveMlPerKAh
  return { ...kind.practice, additiveMlPerKAh: additive, ...Object.fromEntries(targets) } as BathLimits // keys of its kind
}
