import { type Source, source } from '../source.ts'

/** Specific cutting force by material group. */
export const specificForces = source({
  id: 'table.vdi-3323-specific-cutting-force',
  status: 'handbook',
  citation:
    'Material groups of VDI 3323 with specific cutting force and exponent, public tooling catalogue of 2017, page 558',
  place: 'groups 1, 2, 3, 6, 7, 8, 9, 26, 27',
  note: 'A turning table read in a manual on clamping gives 26 to 34 % more for what reads as C45: leave the spindle that much in hand.',
})

/** Band saw cutting rates of bimetal blades. */
export const sawingRates = source({
  id: 'table.band-saw-cutting-rates',
  status: 'handbook',
  citation: 'Band saw blade reference guide, cutting rates of bimetal blades by steel grade, public copy',
  place: 'rows 1015–1026, 1030–1055, 4130–4140, 4142–4161, 5115–5120',
  note: 'Each row is a range; the lower end is taken.',
})

/** Speeds and feeds of twist drills, and what was not read in a table. */
export const drillingPractice = source({
  id: 'practice.drilling-speeds',
  status: 'common practice (no source)',
  citation:
    'Cutting speeds of twist drills by material, feed about 0.018 of the diameter, sawing rates of hard steel and brass',
  note: 'Starting values for a shop; the tool maker and the machine decide.',
})

export interface CuttingData {
  readonly title: string
  /** Force to cut a chip of 1 mm × 1 mm, MPa, and how it rises as the chip gets thinner: kc = kc11 · h^(−exponent). */
  readonly specificForceMPa: number
  readonly exponent: number
  readonly forceSource: Source
  /** Starting cutting speeds of a twist drill, m/min. */
  readonly drillSpeedMPerMin: Readonly<Record<DrillMaterial, number>>
  /** Area a band saw cuts, cm²/min. */
  readonly sawingCm2PerMin: number
  readonly sawingSource: Source
}

export const DRILL_MATERIALS = ['high-speed-steel', 'carbide'] as const
export type DrillMaterial = (typeof DRILL_MATERIALS)[number]

export const CUT_MATERIALS = [
  'low-carbon-steel',
  'medium-carbon-steel',
  'medium-carbon-steel-850MPa',
  'low-alloy-steel',
  'low-alloy-steel-930MPa',
  'low-alloy-steel-1000MPa',
  'low-alloy-steel-1200MPa',
  'leaded-brass',
  'brass',
] as const
export type CutMaterial = (typeof CUT_MATERIALS)[number]

const row = (
  title: string,
  [specificForceMPa, exponent]: readonly [number, number],
  [hss, carbide]: readonly [number, number],
  [sawingCm2PerMin, sawingSource]: readonly [number, Source],
): CuttingData => ({
  title,
  specificForceMPa,
  exponent,
  forceSource: specificForces,
  drillSpeedMPerMin: { 'high-speed-steel': hss, carbide },
  sawingCm2PerMin,
  sawingSource,
})

export const cuttingData: Readonly<Record<CutMaterial, CuttingData>> = {
  'low-carbon-steel': row('Steel below 0.25 % C, annealed', [1350, 0.21], [28, 90], [71, sawingRates]),
  'medium-carbon-steel': row('Steel from 0.25 % C, annealed', [1500, 0.22], [24, 80], [52, sawingRates]),
  'medium-carbon-steel-850MPa': row(
    'Steel below 0.55 % C, quenched and tempered, 850 MPa',
    [1675, 0.24],
    [16, 70],
    [39, drillingPractice],
  ),
  'low-alloy-steel': row('Low-alloy steel, annealed', [1775, 0.24], [20, 75], [39, sawingRates]),
  'low-alloy-steel-930MPa': row('Low-alloy steel, 930 MPa', [1675, 0.24], [14, 65], [32, sawingRates]),
  'low-alloy-steel-1000MPa': row('Low-alloy steel, 1000 MPa', [1725, 0.24], [12, 60], [26, drillingPractice]),
  'low-alloy-steel-1200MPa': row('Low-alloy steel, 1200 MPa', [1800, 0.24], [8, 50], [19, drillingPractice]),
  'leaded-brass': row('Free-cutting brass, over 1 % Pb', [700, 0.27], [60, 150], [110, drillingPractice]),
  brass: row('Brass', [700, 0.27], [50, 130], [100, drillingPractice]),
}
