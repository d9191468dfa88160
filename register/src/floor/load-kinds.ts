/** What shares one furnace charge, or hangs or tumbles together on the plating line. */
export const LOAD_KINDS = ['furnace', 'rack', 'barrel'] as const
export type LoadKind = (typeof LOAD_KINDS)[number]
