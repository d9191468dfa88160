import { type Source, source } from '../source.ts'

/** Severity of quench H = h/2k, per inch as it has always been tabulated. */
export const severityLecture = source({
  id: 'lecture.quench-severity',
  status: 'handbook',
  citation: 'Lecture note on hardenability, table of severity of quench, and a second such table in a public data file',
  place:
    'no agitation and strong agitation: oil 0.25 and 1.0, water 1.0 and 4.0, brine 2.0 and 5.0; agitated oil 0.45, agitated water 1.5',
  note: 'What the note calls strong, older tables call violent. Per inch: 1/in is 0.0394/mm, and the two are often mixed up.',
})

export const severityMeasured = source({
  id: 'conference.severity-8620',
  status: 'paper',
  citation:
    'Conference abstract on quench severity from hardness profiles, 2021: 2 in bar of 8620, water at 6 ft/s, H = 1.45',
})

export const severityRemembered = source({
  id: 'memory.grossmann-severity',
  status: 'from memory (unverified)',
  citation: 'Grossmann and Bain, severity of quench by agitation, as handbooks give it: to confirm',
  place: 'oil mild 0.30–0.35, moderate 0.35–0.40, strong 0.5–0.8; water mild 1.0–1.1, moderate 1.2–1.3, strong 1.6–2.0',
})

export const QUENCH_MEDIA = ['oil', 'water', 'brine', 'polymer', 'salt bath'] as const
export type QuenchMedium = (typeof QUENCH_MEDIA)[number]
export const AGITATIONS = ['none', 'mild', 'moderate', 'good', 'strong', 'violent'] as const
export type Agitation = (typeof AGITATIONS)[number]

interface Severity {
  readonly perInch: number
  readonly source: Source
}
const seen = (perInch: number): Severity => ({ perInch, source: severityLecture })
const remembered = (perInch: number): Severity => ({ perInch, source: severityRemembered })

/** Where a table gives a range, its middle stands. No table at hand gives polymer, whose severity goes by its strength, or a salt bath. */
const severities: Readonly<Record<QuenchMedium, Readonly<Partial<Record<Agitation, Severity>>>>> = {
  oil: {
    none: seen(0.25),
    mild: remembered(0.325),
    moderate: remembered(0.375),
    good: seen(0.45),
    strong: remembered(0.65),
    violent: seen(1),
  },
  water: {
    none: seen(1),
    mild: remembered(1.05),
    moderate: remembered(1.25),
    good: seen(1.5),
    strong: remembered(1.8),
    violent: seen(4),
  },
  brine: { none: seen(2), violent: seen(5) },
  polymer: {},
  'salt bath': {},
}

/** Severity of a bath by its agitation, with its source; `undefined` where no table gives one. */
export function severityOf(medium: QuenchMedium, agitation: Agitation): Severity | undefined {
  return severities[medium][agitation]
}
