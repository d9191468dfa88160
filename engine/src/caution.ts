import { type Source, source } from './source.ts'

/** A hazard that a card shows wherever the step that carries it appears. */
export interface Caution {
  readonly id: string
  /** Who or what is at risk, in a few words. */
  readonly title: string
  /** What to do about it, in plain words. Local codes and licensed practice come first. */
  readonly text: string
}

/** Cautions are general shop safety practice; none replaces local codes or a safety data sheet. */
export const shopSafety: Source = source({
  id: 'practice.shop-safety',
  status: 'common practice (no source)',
  citation: 'General shop safety practice; local codes, licensed practice and the safety data sheets come first',
})

const caution = (id: string, title: string, text: string): Caution => Object.freeze({ id, title, text })

export const movingMachinery = caution(
  'moving-machinery',
  'Saw, drill, mill, press',
  'Guards closed, work clamped, no gloves near turning tools. Two-hand control on the press; block the ram before reaching in.',
)
export const hotSteel = caution(
  'hot-steel',
  'Hot steel and furnace',
  'Face shield, heat-resistant gloves, dry tongs. Nothing wet enters the furnace or a bath.',
)
export const quenchOil = caution(
  'quench-oil',
  'Quench oil burns',
  'No water in the oil, never leave a load half in, watch the bath temperature, lid and extinguisher within reach.',
)
export const acidPickle = caution(
  'acid-pickle',
  'Acid and hydrogen',
  'Acid into water, never water into acid; never near cyanide. Goggles, apron, gloves, extraction. Keep the time short: hard steel takes up hydrogen.',
)
export const hotAlkali = caution(
  'hot-alkali',
  'Hot alkaline cleaner',
  'Caustic burns: goggles, apron, gloves. Add solids slowly to cold water. Eyewash within reach.',
)
export const hexavalentChromium = caution(
  'hexavalent-chromium',
  'Hexavalent chromium',
  'Toxic and carcinogenic; its use is restricted or needs permission in many places. Choose a trivalent bath first. Extraction, mist control and health surveillance as local law requires.',
)
export const trivalentChromium = caution(
  'trivalent-chromium',
  'Trivalent chromium',
  'The first choice, and still a chemical: gloves, goggles, extraction. Chromium salts can sensitise the skin. Never let anodes, oxidisers or drag-in turn it hexavalent: test for it, and stop when it is found.',
)
export const nickelSalts = caution(
  'nickel-salts',
  'Nickel salts',
  'Nickel salts sensitise the skin and are harmful when inhaled. Gloves, extraction, no splashes left to dry.',
)
export const rectifierCurrent = caution(
  'rectifier-current',
  'Rectifier and gas over the bath',
  'High current at the bars, hydrogen over the bath: no sparks, extraction on, current off before racks are moved by hand.',
)
export const hydrogenEmbrittlement = caution(
  'hydrogen-embrittlement',
  'Hydrogen in hard steel',
  'Steel over about 1000 MPa can snap days after pickling or plating. Bake within hours, below the tempering temperature. Inspection does not see it.',
)
export const strengthIsEstimated = caution(
  'strength-is-estimated',
  'Estimate, not a proof',
  'Strength and hardness figures set a process and size a sample. Tests and accredited laboratories decide.',
)
export const keyCodesAreSecret = caution(
  'key-codes-are-secret',
  'Codes are keys',
  'Whoever holds this list can cut the key. Keep it locked away, count the copies, destroy it when the lot is closed.',
)
export const sealingIsFinal = caution(
  'sealing-is-final',
  'Sealing cannot be undone',
  'Try the own key and the named wrong keys before the lock is closed. A sealed lock with a wrong disc is scrap.',
)
