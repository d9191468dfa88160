import { formatFixed } from '@haspwright/engine'
import type { HeatOfAnalysis, QuenchedSection, TemperedSection } from './heat-view.ts'

/** A hardness with least and most, where they are given. */
export interface Hardness {
  readonly hrc: number
  readonly lowHrc?: number | undefined
  readonly highHrc?: number | undefined
}

/** One of the three places that are named. */
export interface NamedPlace {
  readonly name: string
  readonly quenched?: Hardness
  readonly tempered?: Hardness & { readonly basis: TemperedSection['centreBasis'] }
}

const NAMES = ['Surface', 'Mid-radius', 'Centre'] as const

/** Surface, mid-radius and centre out of the two answers; what is not known is absent. */
export function namedPlaces({ quenched, tempered }: Pick<HeatOfAnalysis, 'quenched' | 'tempered'>): NamedPlace[] {
  const before = quenched.ok ? quenchedPlaces(quenched.output) : []
  const after = tempered.ok ? temperedPlaces(tempered.output) : []
  return NAMES.map((name, i) => ({
    name,
    ...(before[i] === undefined ? {} : { quenched: before[i] }),
    ...(after[i] === undefined ? {} : { tempered: after[i] }),
  }))
}

const quenchedPlaces = (out: QuenchedSection): Hardness[] => [
  { hrc: out.surfaceHrc, lowHrc: out.surfaceLowHrc, highHrc: out.surfaceHighHrc },
  { hrc: out.midHrc, lowHrc: out.midLowHrc, highHrc: out.midHighHrc },
  { hrc: out.centreHrc, lowHrc: out.centreLowHrc, highHrc: out.centreHighHrc },
]

const temperedPlaces = (out: TemperedSection) => [
  { hrc: out.surfaceHrc, lowHrc: out.surfaceLowHrc, highHrc: out.surfaceHighHrc, basis: out.surfaceBasis },
  { hrc: out.midHrc, lowHrc: out.midLowHrc, highHrc: out.midHighHrc, basis: out.midBasis },
  { hrc: out.centreHrc, lowHrc: out.centreLowHrc, highHrc: out.centreHighHrc, basis: out.centreBasis },
]

/** The plot of the section as a sentence. */
export function sectionSentence(
  heat: Pick<HeatOfAnalysis, 'quenched' | 'tempered'>,
  asked: { readonly minHrc: number; readonly maxHrc: number },
): string {
  const words = namedPlaces(heat).map(({ name, quenched, tempered }) => {
    const before = quenched === undefined ? 'not known as quenched' : `${withBand(quenched)} as quenched`
    const after =
      tempered === undefined
        ? 'not known after tempering'
        : `${tempered.basis === 'upper bound' ? 'at most ' : ''}${withBand(tempered)} tempered`
    return `${name} ${before}, ${after}.`
  })
  return [...words, `Asked: ${asked.minHrc} to ${asked.maxHrc} HRC.`].join(' ')
}

function withBand({ hrc, lowHrc, highHrc }: Hardness): string {
  const f = (value: number) => formatFixed(value, 1)
  const band =
    lowHrc !== undefined && highHrc !== undefined
      ? ` (${f(lowHrc)} to ${f(highHrc)})`
      : highHrc !== undefined
        ? ` (up to ${f(highHrc)}, least not given)`
        : ''
  return `${f(hrc)} HRC${band}`
}
