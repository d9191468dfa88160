import type { Issue } from '../issue.ts'
import { choice } from '../quantity.ts'
import type { Source } from '../source.ts'
import type { Composition, Element } from './composition.ts'
import {
  atlasC45E,
  boronSteels,
  card16MnCr5,
  card41Cr4,
  card42CrMo4,
  cardC45E,
  cardX20Cr13,
  cardX30Cr13,
  hardening34CrMo4,
  sheet34CrMo4,
  supplierSheet42CrMo4,
} from './steel-sources.ts'

/** A figure of a steel that its card gives, with where it was read. What a card does not give is left out, never filled in. */
export interface Steel {
  readonly title: string
  readonly number: string
  /** Lower and upper limit of each element, mass percent. */
  readonly limits: Readonly<Partial<Record<Element, readonly [number, number]>>>
  readonly limitsSource: Source
  /** Elements whose sum is limited, mass percent. */
  readonly sumLimit?: { readonly elements: readonly Element[]; readonly max: number }
  /** How far an analysis of the product may lie below and above the limits of the heat, mass percent; what was not read is left out. */
  readonly productDeviations?: {
    readonly values: Readonly<Partial<Record<Element, readonly [below: number, above: number]>>>
    readonly source: Source
  }
  /** Martensitic stainless: formulas for low-alloy steel say nothing of it, and it embrittles elsewhere. */
  readonly stainless?: true
  /** Its hardenability rests on boron, for which no factor is at hand. */
  readonly boron?: true
  /** Middle of the limits; silicon taken as 0.25 where only an upper limit is given, residual elements as absent. */
  readonly midAnalysis: Composition
  readonly transformation?: {
    readonly ac1C: number
    readonly ac3C: number
    readonly msC: number
    readonly source: Source
  }
  readonly hardening?: {
    readonly minC: number
    readonly maxC: number
    readonly quench: readonly ('water' | 'oil')[]
    readonly source: Source
  }
  /** What the steel measures after tempering, from the temperature printed; the holding time is not stated by any card. */
  readonly tempering?: {
    readonly quenchedFromC: number
    readonly quench: 'water' | 'oil'
    readonly roundMm: number
    /** Tempering temperature in °C, Rockwell C, tensile strength in MPa as printed. */
    readonly rows: readonly (readonly [temperatureC: number, hrc: number, tensileMPa: number])[]
    readonly source: Source
  }
  /** Where a card gives no curve: ranges of tempering, and the hardness it prints for each. */
  readonly temperedTo?: {
    readonly ranges: readonly {
      readonly minC: number
      readonly maxC: number
      readonly minHrc: number
      readonly maxHrc: number
    }[]
    readonly source: Source
  }
}

export const STEEL_NAMES = [
  'C45E',
  '34CrMo4',
  '41Cr4',
  '42CrMo4',
  '16MnCr5',
  '20MnB5',
  '30MnB5',
  'X20Cr13',
  'X30Cr13',
] as const
export type SteelName = (typeof STEEL_NAMES)[number]

export const steels: Readonly<Record<SteelName, Steel>> = {
  C45E: {
    title: 'C45E',
    number: '1.1191',
    limits: {
      C: [0.42, 0.5],
      Si: [0, 0.4],
      Mn: [0.5, 0.8],
      P: [0, 0.03],
      S: [0, 0.035],
      Cr: [0, 0.4],
      Mo: [0, 0.1],
      Ni: [0, 0.4],
    },
    limitsSource: cardC45E,
    sumLimit: { elements: ['Cr', 'Mo', 'Ni'], max: 0.63 },
    productDeviations: {
      values: { C: [0.02, 0.02], Si: [0, 0.03], Mn: [0.04, 0.04], P: [0, 0.005], S: [0, 0.005] },
      source: cardC45E,
    },
    midAnalysis: { C: 0.46, Si: 0.25, Mn: 0.65 },
    transformation: { ac1C: 735, ac3C: 780, msC: 350, source: cardC45E },
    hardening: { minC: 820, maxC: 860, quench: ['water', 'oil'], source: atlasC45E },
    tempering: {
      quenchedFromC: 850,
      quench: 'water',
      roundMm: 10,
      rows: [
        [100, 58, 2330],
        [200, 57, 2240],
        [300, 52, 1880],
        [400, 43, 1390],
        [500, 33, 1030],
        [600, 23, 810],
      ],
      source: cardC45E,
    },
  },
  '34CrMo4': {
    title: '34CrMo4',
    number: '1.7220',
    limits: {
      C: [0.3, 0.37],
      Si: [0, 0.4],
      Mn: [0.6, 0.9],
      P: [0, 0.035],
      S: [0, 0.035],
      Cr: [0.9, 1.2],
      Mo: [0.15, 0.3],
    },
    limitsSource: sheet34CrMo4,
    productDeviations: {
      values: {
        C: [0.02, 0.02],
        Si: [0, 0.03],
        Mn: [0.04, 0.04],
        P: [0, 0.005],
        S: [0, 0.005],
        Cr: [0.05, 0.05],
        Mo: [0.03, 0.03],
      },
      source: sheet34CrMo4,
    },
    midAnalysis: { C: 0.335, Si: 0.25, Mn: 0.75, Cr: 1.05, Mo: 0.225 },
    hardening: { minC: 830, maxC: 890, quench: ['oil', 'water'], source: hardening34CrMo4 },
  },
  '41Cr4': {
    title: '41Cr4',
    number: '1.7035',
    limits: { C: [0.38, 0.45], Si: [0, 0.4], Mn: [0.6, 0.9], P: [0, 0.025], S: [0, 0.035], Cr: [0.9, 1.2] },
    limitsSource: card41Cr4,
    productDeviations: {
      values: { C: [0.03, 0.03], Si: [0, 0.03], Mn: [0.04, 0.04], P: [0, 0.005], S: [0, 0.005], Cr: [0.05, 0.05] },
      source: card41Cr4,
    },
    midAnalysis: { C: 0.415, Si: 0.25, Mn: 0.75, Cr: 1.05 },
    transformation: { ac1C: 750, ac3C: 790, msC: 310, source: card41Cr4 },
    hardening: { minC: 820, maxC: 860, quench: ['oil', 'water'], source: card41Cr4 },
    tempering: {
      quenchedFromC: 850,
      quench: 'oil',
      roundMm: 10,
      rows: [
        [150, 55.5, 2130],
        [200, 55, 2080],
        [250, 53, 1950],
        [300, 51, 1830],
        [350, 49, 1700],
        [400, 47, 1580],
        [450, 44, 1420],
        [500, 40.5, 1280],
        [550, 36.5, 1120],
        [600, 32, 1000],
        [650, 27, 880],
        [700, 22, 790],
      ],
      source: card41Cr4,
    },
  },
  '42CrMo4': {
    title: '42CrMo4',
    number: '1.7225',
    limits: {
      C: [0.38, 0.45],
      Si: [0, 0.4],
      Mn: [0.6, 0.9],
      P: [0, 0.025],
      S: [0, 0.035],
      Cr: [0.9, 1.2],
      Mo: [0.15, 0.3],
    },
    limitsSource: card42CrMo4,
    productDeviations: {
      values: {
        C: [0.03, 0.03],
        Si: [0, 0.03],
        Mn: [0.04, 0.04],
        P: [0, 0.005],
        S: [0, 0.005],
        Cr: [0.05, 0.05],
        Mo: [0.03, 0.03],
      },
      source: card42CrMo4,
    },
    midAnalysis: { C: 0.415, Si: 0.25, Mn: 0.75, Cr: 1.05, Mo: 0.225 },
    transformation: { ac1C: 745, ac3C: 790, msC: 335, source: card42CrMo4 },
    hardening: { minC: 820, maxC: 880, quench: ['oil', 'water'], source: supplierSheet42CrMo4 },
    tempering: {
      quenchedFromC: 850,
      quench: 'oil',
      roundMm: 10,
      rows: [
        [100, 57, 2200],
        [150, 56.5, 2180],
        [200, 54.5, 2030],
        [250, 52.5, 1910],
        [300, 51, 1800],
        [350, 49, 1700],
        [400, 47, 1590],
        [450, 45, 1480],
        [500, 42, 1350],
        [550, 39, 1220],
        [600, 36, 1100],
        [650, 31, 980],
        [700, 27, 880],
      ],
      source: card42CrMo4,
    },
  },
  '16MnCr5': {
    title: '16MnCr5',
    number: '1.7131',
    limits: { C: [0.14, 0.19], Si: [0.15, 0.4], Mn: [1, 1.3], Cr: [0.8, 1.1] },
    limitsSource: card16MnCr5,
    productDeviations: {
      values: { C: [0.02, 0.02], Si: [0.03, 0.03], Mn: [0.06, 0.06], Cr: [0.05, 0.05] },
      source: card16MnCr5,
    },
    midAnalysis: { C: 0.165, Si: 0.275, Mn: 1.15, Cr: 0.95 },
    transformation: { ac1C: 740, ac3C: 840, msC: 400, source: card16MnCr5 },
    hardening: { minC: 860, maxC: 900, quench: ['oil'], source: card16MnCr5 },
  },
  '20MnB5': {
    title: '20MnB5',
    number: '1.5530',
    limits: { C: [0.17, 0.23], Si: [0, 0.4], Mn: [1.1, 1.4], B: [0.0008, 0.005] },
    boron: true,
    limitsSource: boronSteels,
    midAnalysis: { C: 0.2, Si: 0.25, Mn: 1.25, B: 0.0029 },
  },
  '30MnB5': {
    title: '30MnB5',
    number: '1.5531',
    limits: { C: [0.27, 0.33], Si: [0, 0.4], Mn: [1.15, 1.45], B: [0.0008, 0.005] },
    boron: true,
    limitsSource: boronSteels,
    midAnalysis: { C: 0.3, Si: 0.25, Mn: 1.3, B: 0.0029 },
  },
  X20Cr13: {
    title: 'X20Cr13, martensitic stainless',
    number: '1.4021',
    stainless: true,
    limits: { C: [0.16, 0.25], Si: [0, 1], Mn: [0, 1.5], P: [0, 0.04], S: [0, 0.03], Cr: [12, 14] },
    limitsSource: cardX20Cr13,
    midAnalysis: { C: 0.205, Si: 0.25, Mn: 0.75, Cr: 13 },
    transformation: { ac1C: 790, ac3C: 850, msC: 240, source: cardX20Cr13 },
    hardening: { minC: 950, maxC: 1050, quench: ['oil'], source: cardX20Cr13 },
  },
  X30Cr13: {
    title: 'X30Cr13, martensitic stainless',
    number: '1.4028',
    stainless: true,
    limits: { C: [0.26, 0.35], Si: [0, 1], Mn: [0, 1.5], P: [0, 0.04], S: [0, 0.03], Cr: [12, 14] },
    limitsSource: cardX30Cr13,
    productDeviations: {
      values: { C: [0.02, 0.02], Si: [0, 0.05], Mn: [0, 0.04], P: [0, 0.005], S: [0, 0.003], Cr: [0.15, 0.15] },
      source: cardX30Cr13,
    },
    midAnalysis: { C: 0.305, Si: 0.25, Mn: 0.75, Cr: 13 },
    transformation: { ac1C: 785, ac3C: 885, msC: 280, source: cardX30Cr13 },
    hardening: { minC: 980, maxC: 1080, quench: ['oil'], source: cardX30Cr13 },
    temperedTo: {
      ranges: [
        { minC: 150, maxC: 200, minHrc: 50, maxHrc: 50 },
        { minC: 625, maxC: 675, minHrc: 24, maxHrc: 31 },
      ],
      source: cardX30Cr13,
    },
  },
}

/** The field in which a calculation asks for a steel. */
export function steelField(title = 'Steel') {
  return choice(
    title,
    STEEL_NAMES,
    Object.fromEntries(STEEL_NAMES.map((name) => [name, `${steels[name].title} (${steels[name].number})`])),
  )
}

/** The steel of that name, or `undefined`; names are compared as written, without regard to case. */
export function findSteel(name: string): Steel | undefined {
  const wanted = name.trim().toLowerCase()
  const known = STEEL_NAMES.find((candidate) => candidate.toLowerCase() === wanted)
  return known === undefined ? undefined : steels[known]
}

/** What is wrong when a file names a steel that is not known here; lists the known ones. */
export function unknownSteel(path: string, name: string): Issue {
  return {
    path,
    code: 'not-found',
    message:
      'This steel is not among those with published figures. Choose one of the list, or add it with its sources.',
    value: name.slice(0, 40),
    allowed: STEEL_NAMES.join(', '),
  }
}
