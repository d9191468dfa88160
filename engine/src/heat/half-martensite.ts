import { source } from '../source.ts'

export const hodgeOrehoski = source({
  id: 'hodge-orehoski.half-martensite',
  status: 'handbook',
  citation: 'Hodge and Orehoski 1946, hardness of 50 % martensite by carbon, in a table that cites SAE J406',
  place: 'carbon 0.20 to 0.60 %',
  note: 'Good to 2 HRC. The columns for other shares of martensite were not seen.',
})

/** Carbon in mass percent, and the hardness in HRC at which half is martensite. */
export const HALF_MARTENSITE: readonly (readonly [carbon: number, hrc: number])[] = [
  [0.2, 30],
  [0.3, 37],
  [0.4, 43],
  [0.45, 45],
  [0.5, 47],
  [0.6, 50],
]
const SPREAD_HRC = 2

export const MARTENSITE_SHARES = ['more than half', 'about half', 'less than half', 'not known'] as const

/** How much of the structure is martensite, as far as the hardness of half martensite can tell. */
export function martensiteByHardness(carbon: number, hrc: number): (typeof MARTENSITE_SHARES)[number] {
  const above = HALF_MARTENSITE.findIndex(([c]) => c >= carbon)
  const [c1, h1] = HALF_MARTENSITE[above] ?? []
  if (c1 === undefined || h1 === undefined) return 'not known'
  const [c0, h0] = HALF_MARTENSITE[above - 1] ?? [c1, h1]
  if (c1 === c0 && carbon < c1) return 'not known'
  const half = c1 === c0 ? h1 : h0 + ((h1 - h0) * (carbon - c0)) / (c1 - c0)
  if (Math.abs(hrc - half) <= SPREAD_HRC) return 'about half'
  return hrc > half ? 'more than half' : 'less than half'
}
