import { calculations, isPublished, SOURCE_STATUSES, type Source, shopSafety } from '@haspwright/engine'
import type { SourceListing } from './wire.ts'

/** Every source with what rests on it, most trusted status first. */
export function listSources(): SourceListing[] {
  const listings = new Map<string, { source: Source; computes: Set<string>; checks: Set<string> }>()
  const entry = (source: Source) => {
    const known = listings.get(source.id) ?? { source, computes: new Set(), checks: new Set() }
    listings.set(source.id, known)
    return known
  }
  for (const { id, sources, cautions = [], examples } of calculations) {
    for (const source of sources) entry(source).computes.add(id)
    for (const example of examples) entry(example.source).checks.add(id)
    if (cautions.length > 0) entry(shopSafety).computes.add(id)
  }
  const rank = ({ status }: SourceListing) => SOURCE_STATUSES.indexOf(status)
  return [...listings.values()]
    .map(({ source: { id, status, citation, place, note }, computes, checks }) => ({
      id,
      status,
      citation,
      ...(place === undefined ? {} : { place }),
      ...(note === undefined ? {} : { note }),
      computes: [...computes].sort(),
      checks: [...checks].sort(),
    }))
    .sort((a, b) => rank(a) - rank(b) || (a.id < b.id ? -1 : 1))
}

/** How much of the tool is verified against a publication. */
export function verificationSummary(): { calculations: number; checkedAgainstPublication: number; notYet: string[] } {
  const notYet = calculations.filter(({ examples }) => !examples.some(({ source }) => isPublished(source)))
  return {
    calculations: calculations.length,
    checkedAgainstPublication: calculations.length - notYet.length,
    notYet: notYet.map(({ id }) => id),
  }
}
