import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { acidPickle, hotAlkali, hydrogenEmbrittlement } from '../caution.ts'
import { list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'

const cleaningPractice = source({
  id: 'practice.cleaning-before-nickel',
  status: 'common practice (no source)',
  citation: 'Cleaning of steel before nickel: alkaline soak, anodic cleaning, rinse, short acid, rinse',
  note: 'The supplier of the cleaner and of the acid sets the final times.',
})

const preparationGuidebook = source({
  id: 'guidebook.high-carbon-steel-preparation',
  status: 'handbook',
  citation: 'Surface finishing guidebook, surface preparation: high-carbon and case-hardened steels',
  place:
    'soak clean; anodic alkaline clean; acid dip, last dip 3–5 % by volume of sulfuric acid; water-break-free surface',
  note: 'Says that these steels take up hydrogen and are cleaned anodically; gives no time limit for the acid.',
})

/** Steel of this strength and above is treated as hard: the scope of the hydrogen standards. */
const HARD_FROM_MPA = 1000

interface Step {
  readonly name: string
  readonly bath: string
  readonly minSeconds: number
  readonly maxSeconds: number
}

/** The tanks from degreasing to nickel, with the time each may take; the acid is short for hard steel. */
function cleaningSteps(tensileMPa: number): readonly Step[] {
  const hard = tensileMPa >= HARD_FROM_MPA
  const rinsing = { name: 'Rinse', bath: 'Running water', minSeconds: 20, maxSeconds: 60 }
  return [
    { name: 'Alkaline soak', bath: 'Hot alkaline cleaner', minSeconds: 180, maxSeconds: 600 },
    { name: 'Anodic cleaning', bath: 'Alkaline cleaner, part is the anode', minSeconds: 60, maxSeconds: 180 },
    rinsing,
    {
      name: 'Acid dip',
      bath: hard ? 'Dilute sulfuric acid, inhibited' : 'Dilute sulfuric or hydrochloric acid',
      minSeconds: hard ? 5 : 15,
      maxSeconds: hard ? 30 : 120,
    },
    rinsing,
  ]
}

/** The steps that leave a clean, active surface, and how long each may last. */
export const cleaning = calculation({
  id: 'finish.clean',
  title: 'Cleaning before nickel',
  summary:
    'The tanks before nickel and the time each may take; the acid is kept short where the steel is hard enough to take up hydrogen.',
  assumes: [
    'scale was removed mechanically before',
    'water sheets off without breaking when the part leaves the last rinse',
  ],
  sources: [cleaningPractice, preparationGuidebook],
  cautions: [hotAlkali, acidPickle, hydrogenEmbrittlement],
  input: z.strictObject({
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength', { min: 100, max: 2500, trusted: [100, 1800] }),
  }),
  output: z.strictObject({
    steps: list(
      'Steps',
      z.strictObject({
        name: text('Step'),
        bath: text('Bath'),
        minSeconds: quantity(null, 's', 'At least'),
        maxSeconds: quantity(null, 's', 'At most'),
      }),
      { max: 10 },
    ),
    acidMaxSeconds: quantity(null, 's', 'Longest time in acid'),
  }),
  examples: [
    {
      title: 'steel below 1000 MPa: up to two minutes in acid (common practice)',
      source: cleaningPractice,
      input: { tensileMPa: 600 },
      output: { acidMaxSeconds: 120 },
    },
    {
      title: 'steel from 1000 MPa on: half a minute in acid at most (common practice)',
      source: cleaningPractice,
      input: { tensileMPa: 1350 },
      output: { acidMaxSeconds: 30 },
    },
  ],
  run({ tensileMPa }, report) {
    const steps = cleaningSteps(tensileMPa)
    report.notice('The times are common practice: the supplier of the cleaner and of the acid sets the final ones.')
    if (tensileMPa >= HARD_FROM_MPA)
      report.notice(
        'Hard steel: never clean it as the cathode, keep the acid short and inhibited, and bake after plating.',
      )
    return {
      steps: steps.map((step) => ({ ...step })),
      acidMaxSeconds: steps.find(({ name }) => name === 'Acid dip')?.maxSeconds ?? 0,
    }
  },
  working: 'Chosen from a short table of common practice by the tensile strength; nothing is computed.',
})
