import { acidPickle, hotAlkali, hydrogenEmbrittlement } from '../../caution.ts'
import { formatNumber } from '../../display.ts'
import { finding, unknown } from '../../finding.ts'
import { cleaning } from '../../finish/cleaning.ts'
import { stressRelief } from '../../finish/stress-relief.ts'
import { ask, settingFrom, stated } from '../ask.ts'
import { hydrogenStrength } from '../parts.ts'
import type { Setting } from '../plan.ts'
import { linePlan } from '../plating-line.ts'
import { rackLoad } from '../rack-load.ts'
import { withinLine } from './line-time.ts'
import { requirementOf, type StepContext, type StepPlanner } from './step.ts'

/** Takes off oil and scale; the acid is kept short, because hard steel takes up hydrogen in it. */
export const clean: StepPlanner = (context) => {
  const { design, works } = context
  const tensile = hydrogenStrength(design)
  const acid = requirementOf(context, 'clean', 'acid-time', {
    title: 'Time in the acid',
    sense: 'at-most',
    limit: 0,
    reference: 1,
    unit: 's',
    consequence: 'the hard steel takes up hydrogen before it is plated',
    askedBy: 'Hydrogen uptake of the tempered steel',
  })
  if (!tensile.ok) return { ...empty, findings: [unknown({ ...acid, limit: null }, tensile.because)] }
  const plan = ask(cleaning, { tensileMPa: tensile.tensileMPa })
  if (!plan.ok) return { ...empty, findings: [unknown({ ...acid, limit: null }, plan.because)] }
  const { steps, acidMaxSeconds } = plan.output
  const load = rackLoad(context)
  return {
    ...empty,
    settings: [
      ...(tanksBeforePlating(context) ??
        steps.map(({ name, bath, minSeconds, maxSeconds }, i) => ({
          title: `${i + 1} ${name}: ${bath}`,
          value: `${minSeconds} to ${maxSeconds}`,
          unit: 's',
          evidence: plan.evidence,
        }))),
      stated('Acid, this design', design.coating.acidSeconds, 's'),
      ...reliefSettings(tensile.tensileMPa, design.heat.temperC),
    ],
    time: {
      minutes: steps.reduce((total, { maxSeconds }) => total + maxSeconds, 0) / 60,
      per: 'load',
      piecesPerLoad: load.ok ? load.output.partsPerLoad : works.plating.rackPositions,
      of: 'locks',
      ...withinLine(context),
    },
    findings: [
      finding(
        { ...acid, limit: acidMaxSeconds, reference: acidMaxSeconds },
        {
          predicted: { value: design.coating.acidSeconds },
          evidence: plan.evidence,
          remedy: `Take the racks out of the acid after ${acidMaxSeconds} s.`,
        },
      ),
    ],
  }
}

/** The cleaning tanks of the line with the windows that its timetable keeps; `undefined` where the works has no line that can be timed. */
function tanksBeforePlating({ design, works }: StepContext): Setting[] | undefined {
  const line = linePlan(design, works)
  if (!line.ok) return undefined
  const { stations, input, evidence } = line
  const plating = stations.findIndex(({ purpose }) => purpose === 'nickel' || purpose === 'chromium')
  return stations.slice(0, Math.max(0, plating)).flatMap(({ name, purpose }, station) => {
    const { minS = 0, maxS = null } = input.tanks[station] ?? {}
    const value = maxS === null ? `at least ${formatNumber(minS)}` : `${formatNumber(minS)} to ${formatNumber(maxS)}`
    return purpose === 'station' ? [] : [{ title: `Station ${station}, ${name}`, value, unit: 's', evidence }]
  })
}

/** The route works nothing after tempering; a shackle straightened or ground by hand is another matter. */
function reliefSettings(tensileMPa: number, temperedAtC: number): Setting[] {
  const relief = ask(stressRelief, { tensileMPa, temperedAtC, workedAfterTempering: true })
  return [
    settingFrom(relief, {
      title: 'Stress relief first, only if straightened or ground after tempering',
      unit: '',
      pick: ({ needed, reliefClass, hours, minC, maxC }) =>
        needed ? `${reliefClass}: ${hours} h at ${minC} to ${maxC} °C` : 'none',
    }),
  ]
}

const empty = {
  instruction:
    'Alkaline soak, rinse, short acid, rinse. A wet surface must hold an unbroken film of water, or back to the soak.',
  settings: [],
  time: null,
  record: ['Water film unbroken', 'Seconds in the acid'],
  cautions: [hotAlkali, acidPickle, hydrogenEmbrittlement],
} as const
