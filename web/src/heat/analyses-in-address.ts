/** The analyses that an address holds, by design; what is no object is left out. They are checked where they are read. */
export function analysesInAddress(given: unknown): { analysis?: Readonly<Record<string, unknown>> } {
  if (given === null || typeof given !== 'object' || Array.isArray(given)) return {}
  const kept = Object.entries(given).filter(([, value]) => value !== null && typeof value === 'object')
  return kept.length === 0 ? {} : { analysis: Object.fromEntries(kept) }
}
