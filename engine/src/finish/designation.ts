import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { refuse } from '../issue.ts'
import { type Coating, parseDesignation, writeDesignation } from '../materials/coating-designation.ts'
import { b456Seen, CHROMIUM_UM } from '../materials/service-conditions.ts'
import { choice, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'

const guidebookSymbols = source({
  id: 'astm-b456.designation-symbols',
  status: 'standard',
  citation:
    'ASTM B456, classification numbers and symbols, as explained in a surface finishing guidebook beside its table',
  place:
    'Fe/Ni35d Cr mp; b, d, p, s for nickel, r, mc, mp for chromium; chromium thickness left out where it is 0.3 µm',
  note: 'ISO 1456 writes its designations alike; its own clause on them was not seen. Copper below nickel is not read or written here.',
})

const NICKEL_TITLES = {
  b: 'Bright, one layer',
  d: 'Double or multilayer',
  p: 'Dull, satin or semi-bright, unpolished',
  s: 'Dull or semi-bright, polished',
} as const
const CHROMIUM_TITLES = { r: 'Regular', mc: 'Microcracked', mp: 'Microporous' } as const
const BASE_TITLES = {
  Fe: 'Iron or steel',
  Zn: 'Zinc alloy',
  Cu: 'Copper or copper alloy',
  Al: 'Aluminium or its alloy',
} as const

/** A coating's designation read into its parts and written again. */
export const coatingDesignation = calculation({
  id: 'finish.designation',
  title: 'Designation of a nickel and chromium coating',
  summary: 'What a designation such as Fe/Ni30d Cr mc asks for, and the same written in its shortest form.',
  assumes: ['the thickness of nickel is the least on the significant surface', 'no copper below the nickel'],
  sources: [guidebookSymbols, b456Seen],
  input: z.strictObject({ designation: text('Designation', { max: 60 }) }),
  output: z.strictObject({
    designation: text('Designation, shortest form'),
    base: choice('Base', ['Fe', 'Zn', 'Cu', 'Al'], BASE_TITLES),
    nickelUm: quantity(null, 'µm', 'Nickel at least'),
    nickel: choice('Nickel', ['b', 'd', 'p', 's'], NICKEL_TITLES),
    chromium: choice('Chromium', ['r', 'mc', 'mp'], CHROMIUM_TITLES).nullable(),
    chromiumUm: quantity(null, 'µm', 'Chromium').nullable(),
  }),
  examples: [
    {
      title: 'Fe/Ni35d Cr mp: on steel, 35 µm of double-layer nickel, 0.3 µm of microporous chromium (guidebook)',
      source: guidebookSymbols,
      input: { designation: 'Fe/Ni35d Cr mp' },
      output: { base: 'Fe', nickelUm: 35, nickel: 'd', chromium: 'mp', chromiumUm: 0.3 },
    },
    {
      title: 'Fe/Ni25d Cr mc (guidebook table)',
      source: b456Seen,
      input: { designation: 'Fe/Ni25d Cr mc' },
      output: { designation: 'Fe/Ni25d Cr mc', nickelUm: 25, chromium: 'mc' },
    },
  ],
  run({ designation }) {
    const read = parseDesignation(designation)
    if (!read.ok)
      return refuse({
        path: 'designation',
        code: 'bad-format',
        message: read.because,
        value: designation,
        allowed: 'base/Ni, thickness and type, then Cr and type: Fe/Ni30d Cr mc',
      })
    const { base, nickelUm, nickel, chromium }: Coating = read.coating
    return {
      designation: writeDesignation(read.coating),
      base,
      nickelUm,
      nickel,
      chromium: chromium?.type ?? null,
      chromiumUm: chromium === undefined ? null : (chromium.um ?? CHROMIUM_UM),
    }
  },
  working: 'Read symbol by symbol as the standard writes them; nothing is computed.',
})
